import type { Socket } from 'node:net';
import { Duplex } from 'node:stream';
import type { Admission, Share } from './admission.js';
import { CONNECT, packetFrames, PINGREQ, PUBLISH, type Piece } from './packet-frames.js';
import { checkLength, PACKET_WITHIN, packetPatience } from './packet-patience.js';
import { LONGEST_PACKET, oversizeReason, trimOversize } from './trim-oversize.js';
import { turnWriter } from './turn-writer.js';

/** Bytes read ahead of what may be admitted: enough to see a ping after the messages held back. */
const READ_AHEAD = 64 * 1024;
/** A subscriber that leaves more than this many bytes unread is disconnected; no other waits for it. */
const MOST_UNREAD = 8 * 1024 * 1024;
/** Time in which a CONNECT has to be accepted, ms. */
const CONNECT_WITHIN = 5_000;
/** A client without a keepalive is closed after this much silence, s: otherwise a client that lost its power might occupy its place for good. */
const LONGEST_SILENCE = 3_600;
const PINGRESP = Buffer.from([0xd0, 0]);

export interface ClientStreamOptions {
  readonly admission: Admission;
  /** What to do with a packet that is too long: close the client, or cut the message to a head that gets refused. */
  readonly oversize: 'close' | 'trim';
  /** Time in which a short packet has to be complete, ms. */
  readonly packetWithin?: number;
  /** Called with the reason why a client was closed, or with what was cut. */
  readonly onFault: (reason: string) => void;
}

/** A client's connection as the broker sees it: a socket that delivers no more messages than may be unacknowledged. */
export interface ClientStream {
  readonly stream: Duplex;
  readonly share: Share;
  /** From here on the client's messages are admitted; the broker accepts only a few before its CONNACK. */
  connackSent(): void;
  /** Closes the connection after one and a half times `seconds` without a byte (MQTT 3.1.1, 3.1.2.10); for 0, after an hour. */
  keepAlive(seconds: number): void;
  /** Closes the connection and reports the reason. */
  fault(reason: string): void;
  /** Sends what was written, ends the connection, and closes it after `grace` ms at the latest. */
  shut(grace: number): Promise<void>;
}

/**
 * Puts flow control between a socket and the broker, which has none itself: a PUBLISH enters only when admitted, and pings are answered even while
 * messages are held back, so a commit that takes long costs no connection.
 */
export function clientStream(socket: Socket, { admission, oversize, packetWithin = PACKET_WITHIN, onFault }: ClientStreamOptions): ClientStream {
  const queue: Piece[] = [];
  let queued = 0;
  let wanted = false;
  let ready = false;
  let ended = false;
  let shutting = false;
  let silence: NodeJS.Timeout | null = null;

  const share = admission.join(pump);
  const trim = trimOversize((length) => { onFault(`${oversizeReason(length)}; kept its beginning`); });
  const patience = packetPatience(() => socket.isPaused(), fault, packetWithin);
  const frames = packetFrames((piece) => {
    if (piece.first) checkLength(piece);
    patience.read(piece);
    if (piece.type === PINGREQ && ready && piece.last) {
      stream.write(PINGRESP);
      return;
    }
    if (oversize === 'close' && piece.length > LONGEST_PACKET) throw new Error(oversizeReason(piece.length));
    const taken = trim(piece);
    if (taken === null) return;
    queue.push(taken);
    queued += taken.bytes.length;
  });

  function fault(reason: string): void {
    if (stream.destroyed) return;
    onFault(reason);
    stream.destroy();
  }

  function mayEnter(piece: Piece): boolean {
    if (!piece.first) return true;
    if (!ready && piece.type !== CONNECT) return false;
    return piece.type !== PUBLISH || share.admit(piece.length);
  }

  function pump(): void {
    if (stream.destroyed || shutting) return;
    while (wanted) {
      const bytes = admitted();
      if (bytes === null) break;
      queued -= bytes.length;
      wanted = stream.push(bytes);
    }
    if (queued > READ_AHEAD) socket.pause();
    else if (socket.isPaused() && queued <= READ_AHEAD / 2) socket.resume();
    if (ended && queue.length === 0) stream.push(null);
  }

  /** Everything that may enter now, in one buffer; null if nothing may. */
  function admitted(): Buffer | null {
    let count = 0;
    let size = 0;
    for (let piece = queue[count]; piece !== undefined && size < READ_AHEAD && mayEnter(piece); piece = queue[count]) {
      count += 1;
      size += piece.bytes.length;
    }
    if (count === 0) return null;
    const pieces = queue.splice(0, count);
    const [only] = pieces;
    return count === 1 && only !== undefined ? only.bytes : Buffer.concat(pieces.map(({ bytes }) => bytes), size);
  }

  const out = turnWriter((bytes) => {
    if (!socket.destroyed) socket.write(bytes);
  });

  function send(bytes: Buffer): void {
    out.put(bytes);
    const unread = socket.writableLength + out.waiting();
    if (unread > MOST_UNREAD) fault(`left ${unread} bytes unread`);
  }

  const stream = new Duplex({
    readableHighWaterMark: READ_AHEAD,
    // This is never reached: a slow reader is disconnected above, and must not make the broker wait within a publisher's turn.
    writableHighWaterMark: 4 * MOST_UNREAD,
    read() {
      wanted = true;
      // Not within the read: if data is pushed there and read at once, the stream believes that its `readable` event is still to come (Node's
      // emittedReadable), and the broker, which waits for that event, would never receive anything again.
      process.nextTick(pump);
    },
    write(chunk: Buffer, _encoding, done) {
      send(chunk);
      done();
    },
    writev(chunks: { chunk: Buffer }[], done) {
      send(Buffer.concat(chunks.map(({ chunk }) => chunk)));
      done();
    },
    final(done) {
      out.flush();
      socket.end();
      done();
    },
    destroy(error, done) {
      if (silence !== null) clearTimeout(silence);
      clearTimeout(greeting);
      patience.stop();
      queue.length = 0;
      share.leave();
      if (!shutting) socket.destroy();
      done(error);
    },
  });

  const greeting = setTimeout(() => {
    // What has arrived meanwhile is read first: this thread may have been busy.
    setImmediate(() => setImmediate(() => {
      if (!ready) fault(`no CONNECT within ${CONNECT_WITHIN / 1_000} s`);
    }));
  }, CONNECT_WITHIN);
  socket.setNoDelay(true);
  // Detects a carriage that lost its power while its socket is not read, ms.
  socket.setKeepAlive(true, 30_000);
  socket.on('data', (chunk: Buffer) => {
    if (shutting || stream.destroyed) return;
    silence?.refresh();
    try {
      frames(chunk);
    } catch (error) {
      fault(error instanceof Error ? error.message : String(error));
      return;
    }
    pump();
  });
  socket.on('end', () => {
    ended = true;
    pump();
  });
  socket.on('error', (error) => stream.destroy(error));
  socket.on('close', () => stream.destroy());

  return {
    stream,
    share,
    fault,
    connackSent() {
      ready = true;
      clearTimeout(greeting);
      pump();
    },
    keepAlive(seconds) {
      const [within, named] = seconds > 0 ? [seconds * 1.5, `one and a half times its keepalive of ${seconds} s`] : [LONGEST_SILENCE, `${LONGEST_SILENCE} s, without a keepalive`];
      silence = setTimeout(() => {
        // A socket that is not read always seems silent.
        if (socket.isPaused()) silence?.refresh();
        else fault(`silent for more than ${named}`);
      }, within * 1_000);
    },
    shut(grace) {
      shutting = true;
      return new Promise((resolve) => {
        if (socket.closed) {
          resolve();
          return;
        }
        const late = setTimeout(() => socket.destroy(), grace);
        socket.once('close', () => {
          clearTimeout(late);
          resolve();
        });
        // Unread bytes would turn the end of the connection into a reset, which can overtake the last acknowledgements.
        socket.resume();
        out.flush();
        socket.end();
      });
    },
  };
}

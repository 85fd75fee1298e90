import type { Socket } from 'node:net';
import { Duplex } from 'node:stream';
import type { Admission, Share } from './admission.js';
import { CONNECT, packetFrames, PINGREQ, PUBLISH, type Piece } from './packet-frames.js';
import { checkLength, PACKET_WITHIN, packetPatience } from './packet-patience.js';
import { LONGEST_PACKET, oversizeReason, trimOversize } from './trim-oversize.js';
import { turnWriter } from './turn-writer.js';

/** Bytes read ahead of what may be admitted: enough to see a ping behind what is held back. */
const READ_AHEAD = 64 * 1024;
/** A subscriber that leaves more than this unread is let go, bytes; nobody else waits for it. */
const MOST_UNREAD = 8 * 1024 * 1024;
/** A CONNECT has to be accepted within this, ms. */
const CONNECT_WITHIN = 5_000;
/** A client that asks for no keepalive is closed after this much silence, s: else one that lost its power might hold its place for good. */
const LONGEST_SILENCE = 3_600;
const PINGRESP = Buffer.from([0xd0, 0]);

export interface ClientStreamOptions {
  readonly admission: Admission;
  /** What to do with a packet that is too long: close the client, or cut the message to a head that gets refused. */
  readonly oversize: 'close' | 'trim';
  /** ms in which a short packet has to be complete. */
  readonly packetWithin?: number;
  /** Told why a client was closed, or what was cut. */
  readonly onFault: (reason: string) => void;
}

/** A client's connection as the broker sees it: a socket that gives no more messages than may be unacknowledged. */
export interface ClientStream {
  readonly stream: Duplex;
  readonly share: Share;
  /** From here on its messages are let in; the broker takes only a few before its CONNACK. */
  connackSent(): void;
  /** Closes it after one and a half times `seconds` without a byte (MQTT 3.1.1, 3.1.2.10); 0 after an hour. */
  keepAlive(seconds: number): void;
  /** Closes it for a reason that is told. */
  fault(reason: string): void;
  /** Sends what was written, says goodbye, and is closed after `grace` ms at the latest. */
  shut(grace: number): Promise<void>;
}

/**
 * Puts flow control between a socket and the broker, which has none of its own: a PUBLISH enters only when admitted, and
 * pings are answered even while messages are held back, so a commit that takes long costs no connection.
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
  const trim = trimOversize((length) => {
    onFault(`${oversizeReason(length)}; kept its beginning`);
  });
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

  /** What may enter at once, in one buffer; null where nothing may. */
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
    // Never full: a slow reader is cut off above, and must not make the broker wait within a publisher's turn.
    writableHighWaterMark: 4 * MOST_UNREAD,
    read() {
      wanted = true;
      // Later, not within the read: what is pushed there and read at once leaves the stream believing that its `readable` event
      // is still to come (Node's emittedReadable), and the broker, which waits for that event, would hear nothing any more.
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
    // What has come meanwhile is read first: this thread may have been busy.
    setImmediate(() => setImmediate(() => {
      if (!ready) fault(`no CONNECT within ${CONNECT_WITHIN / 1_000} s`);
    }));
  }, CONNECT_WITHIN);
  socket.setNoDelay(true);
  // Finds a carriage that lost its power while its socket isn't read, ms.
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
        // Nothing can be heard from a socket that isn't read.
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
        // Bytes left unread would turn the goodbye into a reset, which can overtake the last acknowledgements.
        socket.resume();
        out.flush();
        socket.end();
      });
    },
  };
}

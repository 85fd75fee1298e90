import type { Socket } from 'node:net';
import { Duplex } from 'node:stream';
import { generate } from 'mqtt-packet';
import { packetFrames } from './packet-frames.js';
import { pubackGate, type PubackGate } from './puback-gate.js';
import { LONGEST_PACKET, trimOversize } from './trim-oversize.js';
import { turnWriter } from './turn-writer.js';

export interface GatedStream {
  readonly stream: Duplex;
  readonly gate: PubackGate;
  /** Ends the connection after what was written, and destroys it after `grace` ms at the latest. Further bytes are ignored. */
  leave(grace: number): Promise<void>;
}

/**
 * A socket to a broker whose outgoing PUBACKs wait at a gate and whose incoming messages are cut where they are too long.
 *
 * @param onTrimmed called with the length in bytes of a packet that was cut.
 */
export function gatedStream(socket: Socket, onTrimmed: (length: number) => void): GatedStream {
  let leaving = false;
  const out = turnWriter((bytes) => {
    if (!leaving && !socket.destroyed) socket.write(bytes);
  });
  const gate = pubackGate((bytes) => { out.put(bytes); });
  const trim = trimOversize(onTrimmed);
  const frames = packetFrames(
    (piece) => {
      const taken = trim(piece);
      if (taken !== null) hand(taken.bytes);
    },
    (_type, length) => length <= LONGEST_PACKET,
    hand,
  );

  function hand(bytes: Buffer): void {
    if (!stream.push(bytes)) socket.pause();
  }

  function attempt(step: () => void, done: (error?: Error | null) => void): void {
    try {
      step();
      done();
    } catch (error) {
      done(error instanceof Error ? error : new Error(String(error)));
    }
  }

  const stream = new Duplex({
    read() {
      if (!leaving) socket.resume();
    },
    write(chunk: Buffer, _encoding, done) {
      attempt(() => { gate.write(chunk); }, done);
    },
    writev(chunks: { chunk: Buffer }[], done) {
      attempt(() => { gate.write(Buffer.concat(chunks.map(({ chunk }) => chunk))); }, done);
    },
    destroy(error, done) {
      if (!leaving) socket.destroy();
      done(error);
    },
  });

  socket.setNoDelay(true);
  socket.setKeepAlive(true, 30_000);
  socket.on('data', (chunk: Buffer) => {
    if (leaving) return;
    try {
      frames(chunk);
    } catch (error) {
      stream.destroy(error instanceof Error ? error : new Error(String(error)));
    }
  });
  socket.on('end', () => stream.push(null));
  socket.on('error', (error) => stream.destroy(error));
  socket.on('close', () => stream.destroy());

  return {
    stream,
    gate,
    leave(grace) {
      if (leaving || socket.closed) return Promise.resolve();
      return new Promise((resolve) => {
        const late = setTimeout(() => socket.destroy(), grace);
        socket.once('close', () => {
          clearTimeout(late);
          resolve();
        });
        out.flush();
        leaving = true;
        if (socket.connecting) socket.destroy();
        else socket.end(generate({ cmd: 'disconnect' }));
        socket.resume();
      });
    },
  };
}

import type { IncomingMessage } from 'node:http';
import { createBrotliDecompress, createGunzip, createInflate } from 'node:zlib';
import { problemError } from './problem-error.js';

const codings = { gzip: createGunzip, 'x-gzip': createGunzip, deflate: createInflate, br: createBrotliDecompress } as const;

/**
 * The body of a request piece by piece, decoded if it is compressed; no more of it is read than is requested. Rejects with a problem if
 * it is announced as or grows to more than `limit` bytes, compressed or not, does not match its encoding, or ends early.
 */
export async function* openBody(request: IncomingMessage, limit: number): AsyncGenerator<Buffer, void> {
  if (Number(request.headers['content-length'] ?? 0) > limit) throw tooLarge(limit);
  const coding = (request.headers['content-encoding'] ?? 'identity').trim().toLowerCase();
  if (coding === 'identity') {
    yield* received(request, limit);
    return;
  }
  if (!Object.hasOwn(codings, coding)) throw problemError(415, `content-encoding: got ${JSON.stringify(coding.slice(0, 64))}, expected gzip, deflate, br or none.`);
  yield* unpacked(request, limit, coding as keyof typeof codings);
}

function tooLarge(limit: number): Error {
  return problemError(413, `The body is too large: ${limit} bytes at most.`);
}

async function* received(request: IncomingMessage, limit: number): AsyncGenerator<Buffer, void> {
  let size = 0;
  try {
    // A reader that stops still has to answer, so the connection must stay open.
    for await (const piece of request.iterator({ destroyOnReturn: false })) {
      size += (piece as Buffer).length;
      if (size > limit) throw tooLarge(limit);
      yield piece as Buffer;
    }
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ECONNRESET') throw problemError(400, 'The body ended before it was complete.');
    throw error;
  }
}

async function* unpacked(request: IncomingMessage, limit: number, coding: keyof typeof codings): AsyncGenerator<Buffer, void> {
  const decoder = codings[coding]();
  const failures: Error[] = [];
  const fed = feed(received(request, limit), decoder).catch((error: unknown) => {
    failures.push(error instanceof Error ? error : new Error(String(error)));
    decoder.destroy();
  });
  let size = 0;
  try {
    for await (const piece of decoder) {
      size += (piece as Buffer).length;
      if (size > limit) throw tooLarge(limit);
      yield piece as Buffer;
    }
    await fed;
  } catch (error) {
    if (failures[0] !== undefined) throw failures[0];
    // The codes of zlib, and those of Brotli.
    const isOfCoding = error instanceof Error && 'code' in error && /^Z_|BROTLI|^ERR__ERROR/.test(String(error.code));
    throw isOfCoding ? problemError(400, `content-encoding: the body is not ${coding}: ${error.message}.`) : error;
  } finally {
    decoder.destroy();
  }
  if (failures[0] !== undefined) throw failures[0];
}

async function feed(pieces: AsyncIterable<Buffer>, decoder: ReturnType<(typeof codings)[keyof typeof codings]>): Promise<void> {
  for await (const piece of pieces) {
    if (decoder.destroyed) return;
    if (!decoder.write(piece)) await new Promise<void>((resolve) => void decoder.once('drain', resolve).once('close', resolve));
  }
  decoder.end();
}

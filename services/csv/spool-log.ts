import { createHash, randomBytes } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { open, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { StringDecoder } from 'node:string_decoder';
import type { LineEnding } from './text-lines.js';

/** A log in a file of our own until it has been imported. */
export interface SpooledLog {
  readonly file: string;
  /** The boot under which its items are stored, derived from its bytes: the same log always has the same boot. */
  readonly boot: string;
  readonly ending: LineEnding;
}

const name = /^import-[0-9a-f]{16}\.part$/;
const mark = Buffer.from([0xef, 0xbb, 0xbf]);
const lineFeed = 0x0a;

/**
 * Writes a log to a file in `folder`, which has to be on the disk of the store; only a piece at a time is in memory. A byte order
 * mark at its beginning is left out. Rejects with the error of the pieces or the disk, and leaves no file then.
 */
export async function spoolLog(pieces: AsyncIterable<Uint8Array>, folder: string): Promise<SpooledLog> {
  const file = join(folder, `import-${randomBytes(8).toString('hex')}.part`);
  const handle = await open(file, 'wx', 0o600);
  try {
    const hash = createHash('sha256');
    let ending: LineEnding = '\r';
    for await (const piece of withoutMark(pieces)) {
      hash.update(piece);
      if (piece.includes(lineFeed)) ending = '\n';
      // A write may accept less than it is given.
      for (let written = 0; written < piece.length; ) written += (await handle.write(piece, written)).bytesWritten;
    }
    return { file, boot: `log-${hash.digest('hex').slice(0, 32)}`, ending };
  } catch (error) {
    await rm(file, { force: true });
    throw error;
  } finally {
    await handle.close();
  }
}

/** Removes what an earlier process left behind in the folder. */
export async function removeSpooled(folder: string): Promise<void> {
  for (const entry of await readdir(folder)) if (name.test(entry)) await rm(join(folder, entry), { force: true });
}

/** The text of such a file, piece by piece. */
export function* spooledText(file: string): Generator<string, void> {
  const handle = openSync(file, 'r');
  try {
    const decoder = new StringDecoder('utf8');
    const room = Buffer.allocUnsafe(64 * 1024);
    for (let size = readSync(handle, room); size > 0; size = readSync(handle, room)) yield decoder.write(room.subarray(0, size));
    yield decoder.end();
  } finally {
    closeSync(handle);
  }
}

async function* withoutMark(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array, void> {
  let begun: Buffer | null = Buffer.alloc(0);
  for await (const piece of pieces) {
    if (begun === null) {
      yield piece;
      continue;
    }
    begun = Buffer.concat([begun, piece]);
    if (begun.length < mark.length) continue;
    yield begun.subarray(0, mark.length).equals(mark) ? begun.subarray(mark.length) : begun;
    begun = null;
  }
  if (begun !== null && begun.length > 0) yield begun;
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { preloadedLibrary } from './preloaded-library.js';

/** One call that changed something outside the process, in the order in which they were done. */
export type FileCall =
  | { readonly kind: 'write'; readonly path: string; readonly offset: number; readonly bytes: Buffer }
  | { readonly kind: 'truncate'; readonly path: string; readonly size: number }
  | { readonly kind: 'sync'; readonly path: string }
  | { readonly kind: 'remove'; readonly path: string }
  /** Bytes that the kernel took for a socket; `path` tells sockets apart. */
  | { readonly kind: 'send'; readonly path: string; readonly bytes: Buffer };

export interface RecordedFiles {
  /** How to start the service. */
  readonly env: Readonly<Record<string, string>>;
  /** Every call so far. */
  calls(): FileCall[];
}

/** Compiles the recording layer into `folder` and gives the switch for it; it acts on files below `dataDir` and on sockets. */
export function recordedFiles(folder: string, dataDir: string): RecordedFiles {
  const library = preloadedLibrary(folder, 'recorded-files', '-lpthread');
  const log = join(folder, 'calls');
  return {
    env: { LD_PRELOAD: library, RECORDED_LOG: log, RECORDED_DIR: dataDir },
    calls: () => readCalls(readFileSync(log)),
  };
}

/** Length of what comes before the path: kind, length of the path, offset, length of the bytes. */
const headLength = 17;

export function readCalls(log: Buffer): FileCall[] {
  const calls: FileCall[] = [];
  for (let at = 0; at < log.length; ) {
    const kind = String.fromCharCode(log.readUInt8(at));
    const pathLength = log.readUInt32LE(at + 1);
    const offset = Number(log.readBigInt64LE(at + 5));
    const length = log.readUInt32LE(at + 13);
    const path = log.toString('utf8', at + headLength, at + headLength + pathLength);
    const bytes = log.subarray(at + headLength + pathLength, at + headLength + pathLength + length);
    at += headLength + pathLength + length;
    if (kind === 'w') calls.push({ kind: 'write', path, offset, bytes });
    else if (kind === 't') calls.push({ kind: 'truncate', path, size: offset });
    else if (kind === 's') calls.push({ kind: 'sync', path });
    else if (kind === 'r') calls.push({ kind: 'remove', path });
    else if (kind === 'p') calls.push({ kind: 'send', path, bytes });
    else throw new Error(`the record of calls has a call ${JSON.stringify(kind)} at byte ${at}`);
  }
  return calls;
}

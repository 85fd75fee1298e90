import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import type { RefusedLine } from './csv-log.js';
import { parseLog } from './csv-log.js';
import { toPayload } from './to-payload.js';

/** A log as messages ready to be taken like those of a carriage. */
export interface ReadLog {
  /** The boot under which its items are stored: the same for the same file. */
  readonly boot: string;
  readonly payloads: readonly Uint8Array[];
  readonly refused: readonly RefusedLine[];
}

interface LogToRead {
  readonly csv: string;
  readonly start: number | null;
}

/** Reads a log in a thread of its own, so that a large one holds up neither pages nor ingest. */
export function readLog(log: LogToRead): Promise<ReadLog | { readonly failure: string }> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./read-log-worker.js', import.meta.url), { workerData: log });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
}

function read({ csv, start }: LogToRead): ReadLog | { readonly failure: string } {
  const log = parseLog(csv, { start });
  if (log.failure !== null) return { failure: log.failure };
  const boot = log.items[0]?.boot ?? null;
  if (boot === null) {
    const [first] = log.refusedLines;
    const why = first === undefined ? '' : `; line ${first.line}: ${first.reason}`;
    return { failure: `the log holds no line that can be used${why}` };
  }
  return { boot, payloads: log.messages.map((message) => toPayload([...message])), refused: log.refusedLines };
}

if (!isMainThread && parentPort !== null && isLog(workerData)) parentPort.postMessage(read(workerData));

function isLog(value: unknown): value is LogToRead {
  return typeof value === 'object' && value !== null && 'csv' in value && 'start' in value;
}

import { Worker } from 'node:worker_threads';
import type { LogOutline } from './csv-log.js';
import type { SpooledLog } from './spool-log.js';

/** A log that is read in a thread of its own, a slice at a time, so that a large one holds up neither pages nor ingest. */
export interface LogInSlices {
  readonly outline: LogOutline;
  /** The next items as a payload like those of a carriage; null after the last. */
  next(): Promise<Uint8Array | null>;
}

/** What the thread is handed. */
export interface LogToRead extends SpooledLog {
  readonly start: number | null;
}

/** What the thread says: first the outline, and then a slice each time it is asked. */
export type Told = { readonly outline: LogOutline } | { readonly slice: Uint8Array | null };

/** Begins to read a log; `close` ends the thread, whether the log was read to its end or not. */
export async function readLog(log: LogToRead): Promise<LogInSlices & { close(): Promise<void> }> {
  const worker = new Worker(new URL('./read-log-worker.js', import.meta.url), {
    workerData: log,
    // It holds at most some slices and the longest lines; more would mean that something here is wrong.
    resourceLimits: { maxYoungGenerationSizeMb: 4, maxOldGenerationSizeMb: 64 },
  });
  const close = async (): Promise<void> => { await worker.terminate(); };
  const told = (): Promise<Told> =>
    new Promise((resolve, reject) => {
      const done = (): void => { worker.off('message', resolve).off('error', reject).off('exit', ended); };
      const ended = (): void => { reject(new Error('the thread that reads the log has ended')); };
      worker.once('message', resolve).once('message', done).once('error', reject).once('exit', ended);
    });
  try {
    const first = await told();
    if (!('outline' in first)) throw new Error('the log was not read');
    return {
      outline: first.outline,
      next: async () => {
        const answer = told();
        worker.postMessage('next');
        const given = await answer;
        return 'slice' in given ? given.slice : null;
      },
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}

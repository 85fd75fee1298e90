import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import type { LogOutline, LogSource } from './csv-log.js';
import { logItems } from './log-items.js';
import { numberMessages } from './number-messages.js';
import { outlineLog } from './outline-log.js';
import { spooledText, type SpooledLog } from './spool-log.js';
import { toPayload } from './to-payload.js';
import type { Item } from '../../shared/weld/items/item.js';

/** A log that is read in a thread of its own, a slice at a time, so that a large one holds up neither pages nor ingest. */
export interface LogInSlices {
  readonly outline: LogOutline;
  /** The next items as a payload like those of a carriage; null after the last. */
  next(): Promise<Uint8Array | null>;
}

/** The most items and samples of one slice, which are folded at a stretch between messages of carriages. */
const itemsPerSlice = 200;
const samplesPerSlice = 1_000;

interface LogToRead extends SpooledLog {
  readonly start: number | null;
}

type Told = { readonly outline: LogOutline } | { readonly slice: Uint8Array | null };

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

function* slices(messages: Iterable<readonly Item[]>): Generator<Uint8Array, void> {
  let gathered: Item[] = [];
  let samples = 0;
  for (const message of messages) {
    const own = message.reduce((sum, { count }) => sum + count, 0);
    if (gathered.length > 0 && (gathered.length + message.length > itemsPerSlice || samples + own > samplesPerSlice)) {
      yield toPayload(gathered);
      gathered = [];
      samples = 0;
    }
    gathered.push(...message);
    samples += own;
  }
  if (gathered.length > 0) yield toPayload(gathered);
}

if (!isMainThread && parentPort !== null && isLog(workerData)) {
  const port = parentPort;
  const { file, ending, start, boot } = workerData;
  const source: LogSource = { pieces: () => spooledText(file), ending, start };
  const outline = outlineLog(source);
  const given = slices(numberMessages(logItems(source, outline), boot));
  port.on('message', () => {
    const step = given.next();
    const slice = step.done === true ? null : step.value;
    port.postMessage({ slice } satisfies Told, slice === null ? [] : [slice.buffer as ArrayBuffer]);
  });
  port.postMessage({ outline } satisfies Told);
}

function isLog(value: unknown): value is LogToRead {
  return typeof value === 'object' && value !== null && 'file' in value && 'boot' in value && 'ending' in value;
}

import { parentPort, workerData } from 'node:worker_threads';
import type { LogSource } from './csv-log.js';
import { logItems } from './log-items.js';
import { numberMessages } from './number-messages.js';
import { outlineLog } from './outline-log.js';
import type { LogToRead, Told } from './read-log.js';
import { spooledText } from './spool-log.js';
import { toPayload } from './to-payload.js';
import type { Item } from '../../shared/weld/items/item.js';

/** The most items and samples of one slice, which are folded at a stretch between messages of carriages. */
const itemsPerSlice = 200;
const samplesPerSlice = 1_000;

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

/** The thread in which a log is read: it tells the outline, and then gives a slice each time it is asked. */
function serve({ file, ending, start, boot }: LogToRead): void {
  const source: LogSource = { pieces: () => spooledText(file), ending, start };
  const outline = outlineLog(source);
  const given = slices(numberMessages(logItems(source, outline), boot));
  parentPort?.on('message', () => {
    const step = given.next();
    const slice = step.done === true ? null : step.value;
    parentPort?.postMessage({ slice } satisfies Told, slice === null ? [] : [slice.buffer as ArrayBuffer]);
  });
  parentPort?.postMessage({ outline } satisfies Told);
}

serve(workerData as LogToRead);

import { openWriter } from '../../../shared/records/open-database.js';
import { inlineWriter, type StoreWriter, type Writing } from './store-writer.js';
import { threadedWriter } from './threaded-writer.js';

/** A change set is handed to the other thread where a sync takes longer than this, µs. Between 1 and 4 ms, neither way was measurably quicker. */
const worthHandingOver = 2_000;
/** The median of so many syncs decides: now and then one takes long on any disk. */
const remembered = 9;

/** Writes on the caller's thread while the disk syncs quickly, and in a separate thread while the next change set is computed where it does not. */
export async function quickerWriter(databaseFile: string): Promise<StoreWriter> {
  const db = openWriter(databaseFile);
  const beside = await threadedWriter(databaseFile);
  const writer = writerBySync(inlineWriter(db), beside);
  return {
    ...writer,
    close: async () => {
      await writer.close();
      db.close();
    },
  };
}

/** Writes `here` or `beside`, by how long the latest syncs took. Commits come one at a time, so one that was begun is over before the next. */
export function writerBySync(here: StoreWriter, beside: StoreWriter): StoreWriter {
  const syncs: number[] = [];
  let last: Writing | null = null;

  function isWorthHandingOver(): boolean {
    const took = last?.synced() ?? null;
    if (took !== null) syncs.push(took);
    if (syncs.length > remembered) syncs.shift();
    return (syncs.toSorted((a, b) => a - b)[syncs.length >> 1] ?? 0) > worthHandingOver;
  }

  return {
    begin: (changes, over) => (last = (isWorthHandingOver() ? beside : here).begin(changes, over)),
    settle: () => { beside.settle(); },
    close: async () => {
      await here.close();
      await beside.close();
    },
  };
}

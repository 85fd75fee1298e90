import type { ChangeSet } from '../../../shared/records/change-set.js';
import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { changeWriter } from './change-writer.js';

/** One change set on its way to the disk. */
export interface Writing {
  readonly isOver: () => boolean;
  /** Why nothing of it is stored; null where all of it is on the disk. Waits until that is decided. */
  readonly outcome: () => Error | null;
}

/** Writes change sets, one at a time and each in one transaction. */
export interface StoreWriter {
  /** What was begun before must be over. `over` is called in a later turn of the loop, unless `outcome` was asked before. */
  begin(changes: ChangeSet, over: () => void): Writing;
  /** Waits until what was begun is over, whatever comes of it: what is read from then on is as that left it. */
  settle(): void;
  close(): Promise<void>;
}

/** Writes at once, by a connection of the caller's. */
export function inlineWriter(db: SqliteFile): StoreWriter {
  const writer = changeWriter(db);
  return {
    begin: (changes) => {
      const failure = failureOf(() => {
        writer.apply(changes);
      });
      return { isOver: () => true, outcome: () => failure };
    },
    settle: () => undefined,
    close: () => Promise.resolve(),
  };
}

/** What some work throws; null where it does not. */
export function failureOf(work: () => void): Error | null {
  try {
    work();
    return null;
  } catch (thrown) {
    return thrown instanceof Error ? thrown : new Error(String(thrown));
  }
}

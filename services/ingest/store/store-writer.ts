import type { ChangeSet } from '../../../shared/records/change-set.js';
import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { changeWriter } from './change-writer.js';

/** A change set that is being written. */
export interface Writing {
  readonly isOver: () => boolean;
  /** Why nothing of it is stored; null if all of it is on the disk. Waits until that is decided. */
  readonly outcome: () => Error | null;
  /** How long the disk took to sync it, µs; null if it failed, or until `outcome` was called or `over` has come. */
  readonly synced: () => number | null;
}

/** Writes change sets one at a time, each in one transaction. */
export interface StoreWriter {
  /** Begins to write; the previous change set must be finished. `over` is called in a later turn of the loop, unless `outcome` was called before. */
  begin(changes: ChangeSet, over: () => void): Writing;
  /** Waits until the change set being written has succeeded or failed: later reads see the result. */
  settle(): void;
  close(): Promise<void>;
}

/** Writes at once, on the caller's connection. */
export function inlineWriter(db: SqliteFile): StoreWriter {
  const writer = changeWriter(db);
  return {
    begin: (changes) => {
      let synced: number | null = null;
      const failure = failureOf(() => { synced = writer.apply(changes); });
      return { isOver: () => true, outcome: () => failure, synced: () => synced };
    },
    settle: () => undefined,
    close: () => Promise.resolve(),
  };
}

/** What the work throws; null if it succeeds. */
export function failureOf(work: () => void): Error | null {
  try {
    work();
    return null;
  } catch (thrown) {
    return errorOf(thrown);
  }
}

export function errorOf(thrown: unknown): Error {
  return thrown instanceof Error ? thrown : new Error(String(thrown));
}

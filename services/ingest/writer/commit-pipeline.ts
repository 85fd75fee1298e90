import { isEmptyChangeSet, type ChangeSet } from '../../../shared/records/change-set.js';
import { failureOf, type StoreWriter, type Writing } from '../store/store-writer.js';

/** Commits on their way to the disk: at most one is written while the next one is computed. */
export interface CommitPipeline {
  /** Waits for the commit that is being written, and returns why it failed; null if it is stored or there is none. Its `over` is not called yet. */
  failure(): Error | null;
  /** The same, and calls its `over`. */
  finish(): Error | null;
  /** Begins to write a commit; the one before must not have failed. `over` is called once this one is stored (null) or has failed, in order. */
  begin(changes: ChangeSet, over: (failure: Error | null) => void): void;
}

interface Commit {
  readonly writing: Writing;
  readonly over: (failure: Error | null) => void;
  /** Undefined until it was asked for. What was decided once stays so, also if the store is found again afterwards. */
  failure: Error | null | undefined;
}

const nothingToWrite: Writing = { isOver: () => true, outcome: () => null, synced: () => null };

/** `stillStored` is called after each commit: it throws if what was committed cannot be found again. */
export function commitPipeline(writer: StoreWriter, stillStored: () => void): CommitPipeline {
  let current: Commit | null = null;

  function failure(): Error | null {
    if (current === null) return null;
    if (current.failure === undefined) current.failure = current.writing.outcome() ?? failureOf(stillStored);
    return current.failure;
  }

  function finish(): Error | null {
    const failed = failure();
    const own = current;
    current = null;
    own?.over(failed);
    return failed;
  }

  return {
    failure,
    finish,
    begin: (changes, over) => {
      const before = current;
      const writing = isEmptyChangeSet(changes) ? nothingToWrite : writer.begin(changes, finish);
      current = { writing, over, failure: undefined };
      // Its messages are acknowledged while the next commit is being written.
      before?.over(null);
      if (writing.isOver()) finish();
    },
  };
}

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
}

const nothingToWrite: Writing = { isOver: () => true, outcome: () => null };

/** `stillStored` is called after each commit: it throws if what was committed cannot be found again. */
export function commitPipeline(writer: StoreWriter, stillStored: () => void): CommitPipeline {
  let current: Commit | null = null;

  const failureOfCommit = ({ writing }: Commit): Error | null => writing.outcome() ?? failureOf(stillStored);

  function finish(): Error | null {
    if (current === null) return null;
    const own = current;
    const failure = failureOfCommit(own);
    current = null;
    own.over(failure);
    return failure;
  }

  return {
    failure: () => (current === null ? null : failureOfCommit(current)),
    finish,
    begin: (changes, over) => {
      const before = current;
      const writing = isEmptyChangeSet(changes) ? nothingToWrite : writer.begin(changes, finish);
      current = { writing, over };
      // Its messages are acknowledged while the next commit is being written.
      before?.over(null);
      if (writing.isOver()) finish();
    },
  };
}

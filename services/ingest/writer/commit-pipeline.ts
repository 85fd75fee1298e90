import { isEmptyChangeSet, type ChangeSet } from '../../../shared/records/change-set.js';
import { failureOf, type StoreWriter, type Writing } from '../store/store-writer.js';

/** Commits on their way to the disk: one is written while the next one is computed, and never more. */
export interface CommitPipeline {
  /** Waits for the commit that is being written. Why it failed; null where it is stored, or none is on its way. Its `over` is not called yet. */
  failure(): Error | null;
  /** The same, and its `over` is called. */
  finish(): Error | null;
  /** Has a commit written; the one before must not have failed. `over` is called once it is stored, with null, or has failed, and in the order of the commits. */
  begin(changes: ChangeSet, over: (failure: Error | null) => void): void;
}

interface Commit {
  readonly writing: Writing;
  readonly over: (failure: Error | null) => void;
}

const nothingToWrite: Writing = { isOver: () => true, outcome: () => null };

/** `stillStored` is asked after each commit: it throws where what was committed cannot be found again. */
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
      // Its carriages hear that it is stored while the next one is being written.
      before?.over(null);
      if (writing.isOver()) finish();
    },
  };
}

import type { CommitFacts } from '../../ingest-port.js';
import type { Clock } from '../clock.js';

/** Interval between reports, µs. */
const tellEvery = 1_000_000;

/** Gathers commits and reports them together: reporting each by itself would cost more than it is worth. */
export function batchCommitStats(tell: (commits: readonly CommitFacts[]) => void, { steady }: Pick<Clock, 'steady'>): (commit: CommitFacts) => void {
  let waiting: CommitFacts[] = [];
  let toldAt = steady();
  return (commit) => {
    waiting.push(commit);
    if (steady() - toldAt < tellEvery) return;
    toldAt = steady();
    tell(waiting);
    waiting = [];
  };
}

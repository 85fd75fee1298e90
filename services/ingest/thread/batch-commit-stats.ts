import type { CommitFacts } from '../../ingest-port.js';
import type { Clock } from '../clock.js';

/** µs. */
const tellEvery = 1_000_000;

/** Gathers commits and tells them together: one by one they would cost more than they say. */
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

import type { CommitFacts } from '../ingest-port.js';

const tellEveryMs = 1_000;

/** Gathers commits and tells them together: one by one they would cost more than they say. */
export function commitTeller(tell: (commits: readonly CommitFacts[]) => void): (commit: CommitFacts) => void {
  let waiting: CommitFacts[] = [];
  let toldAt = performance.now();
  return (commit) => {
    waiting.push(commit);
    if (performance.now() - toldAt < tellEveryMs) return;
    toldAt = performance.now();
    tell(waiting);
    waiting = [];
  };
}

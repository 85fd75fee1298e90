/** In a commit messages are taken, and what was taken is folded, for this long at most, ms: nobody else is acknowledged meanwhile. Common practice, no source. */
const commitFor = 30;
export const foldFor = 20;
const leastBytes = 131_072;
const mostBytes = 4 * 1024 * 1024;
/** What a message costs however short it is, in bytes of payload. */
const perMessage = 100;

/** How much one commit takes: as much as was done in the time that it may take, by what the last ones cost. */
export interface CommitBudget {
  /** Whether a commit that has gone on for `elapsed` ms and taken `bytes` so far takes a further message. */
  allows(bytes: number, elapsed: number): boolean;
  /** Tells what a commit took and how long taking it needed, ms. */
  spent(bytes: number, elapsed: number): void;
}

export function costOf(payload: Uint8Array): number {
  return payload.length + perMessage;
}

export function commitBudget(): CommitBudget {
  let most = 256 * 1024;
  return {
    allows: (bytes, elapsed) => bytes < most && elapsed < commitFor,
    spent(bytes, elapsed) {
      // What was less than a full commit says nothing of how much a full one might hold, but that it is less.
      if (elapsed <= commitFor && bytes < most) return;
      const fitting = (bytes * commitFor) / Math.max(elapsed, 1);
      most = Math.min(mostBytes, Math.max(leastBytes, (most + Math.min(fitting, 2 * most)) / 2));
    },
  };
}

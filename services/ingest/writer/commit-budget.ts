/** The longest time in which a commit handles and folds messages, ms: no other is acknowledged meanwhile. Common practice, no source. */
const commitFor = 30;
export const foldFor = 20;
const leastBytes = 131_072;
const mostBytes = 4 * 1024 * 1024;
/** The fixed cost of a message, in bytes of payload. */
const perMessage = 100;

/** How many messages one commit handles: as many as fit into its time, judging by the cost of the last commits. */
export interface CommitBudget {
  /** Whether a commit that has lasted `elapsed` ms and handled `bytes` so far may handle another message. */
  allows(bytes: number, elapsed: number): boolean;
  /** Reports how many bytes a commit handled and how long that took, ms. */
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
      // A commit that was not full says nothing about how much a full one can handle.
      if (elapsed <= commitFor && bytes < most) return;
      const fitting = (bytes * commitFor) / Math.max(elapsed, 1);
      most = Math.min(mostBytes, Math.max(leastBytes, (most + Math.min(fitting, 2 * most)) / 2));
    },
  };
}

import { costOf, type CommitBudget } from './commit-budget.js';
import type { GatheredMessage } from './gathered-message.js';
import type { MessageQueue, Waiting } from './message-queue.js';
import { gatherMessage } from './gather-message.js';
import type { StreamAccess } from './stream-access.js';
import { handleMessage, type IncomingCounts } from './handle-message.js';

/** The most messages that one commit handles. */
export const commitAtMessages = 2_000;

/** The messages of one commit, and their counts. */
export interface Batch {
  readonly messages: Waiting[];
  readonly counts: IncomingCounts;
  bytes: number;
}

export function startBatch(): Batch {
  return { messages: [], counts: { stored: 0, duplicate: 0, refused: 0, conflict: 0, unknownFields: 0 }, bytes: 0 };
}

/** Gathers waiting messages, as many as fit into a commit that began at `begun`, ms of the steady clock, and then handles them. */
export function takeBatch(batch: Batch, queue: MessageQueue, streams: StreamAccess, budget: CommitBudget, begun: number): void {
  const gathered: GatheredMessage[] = [];
  while (batch.messages.length < commitAtMessages && budget.allows(batch.bytes, streams.fold.steady() / 1e3 - begun)) {
    const next = queue.next(streams.behind);
    if (next === null) break;
    batch.messages.push(next);
    batch.bytes += costOf(next.message.payload);
    gathered.push(gatherMessage(next.message, streams));
  }
  for (const own of gathered) handleMessage(own, streams, batch.counts);
}

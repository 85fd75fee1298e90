import type { FoldDeps } from './fold-deps.js';
import { silenceDueAt } from './follow-silence.js';
import { openRunEndsAt } from './run-end.js';
import type { StreamState } from './stream-state.js';

/** How often the `stored` mark is published while a carriage sends, µs. */
export const storedEvery = 1_000_000;

/** When anything is due for a stream that nothing comes for, µs by the steady clock. What is to be folded again waits for its turn instead (refold-turns.ts). */
export function nextDue(stream: StreamState, fold: FoldDeps): number {
  const stored = stream.storedChanged && stream.stream === '' ? stream.storedAt + storedEvery : Infinity;
  if (stream.fault !== null) return stored;
  if (stream.dirtyFrom !== null || stream.fresh.length > 0) return Infinity;
  // The mark goes out behind the records.
  if (stream.flushAt < Infinity) return Math.min(stream.flushAt, stream.tellAt);
  const byArrival = Math.min(silenceDueAt(stream, fold), openRunEndsAt(stream, fold), ...stream.alarms.map(({ shelvedUntil }) => shelvedUntil ?? Infinity));
  return Math.min(stored, fold.steady() + byArrival - fold.now());
}

import type { Carriage } from './carriage.js';
import type { FoldDeps } from './fold-deps.js';
import { isFolded } from './fold-state.js';
import { silenceDueAt } from './follow-silence.js';
import { markDueAt } from './outbox.js';
import { openRunEndsAt } from './run-end.js';

/** When anything is due for a carriage that nothing comes from, µs by the steady clock. What is to be folded again waits for its turn instead (refold-turns.ts). */
export function nextDue(carriage: Carriage, deps: FoldDeps): number {
  const { kind, fold, alarms, outbox } = carriage;
  const mark = kind === 'live' ? markDueAt(outbox) : Infinity;
  if (fold.fault !== null) return mark;
  if (!isFolded(fold)) return Infinity;
  // The mark goes out behind the records.
  if (outbox.flushAt < Infinity) return Math.min(outbox.flushAt, outbox.tellAt);
  const byArrival = Math.min(silenceDueAt(carriage, deps), openRunEndsAt(carriage, deps), ...alarms.atHand.map(({ shelvedUntil }) => shelvedUntil ?? Infinity));
  return Math.min(mark, deps.steady() + byArrival - deps.now());
}

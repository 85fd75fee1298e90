import type { ArcState } from '../arcs/arc-state.js';
import type { PlacedItem } from '../items/device-clock.js';
import { valueAt } from '../items/item.js';
import type { WeldSettings } from '../weld-settings.js';
import type { FoldContext, FoldState } from './carriage-fold.js';
import { isFarFrom } from './run-state.js';

/**
 * The revision of the sensors by which the next item is read: the newest that was declared before it came, except that a run keeps the one by which it was
 * lit, to its end and where it is lit again. `epoch` is the assignment in force for the item.
 */
export function sensorsInForce(state: FoldState, placed: PlacedItem, epoch: number, context: FoldContext): number {
  const newest = context.sensorsAt(placed.item);
  if (newest === state.sensors && (state.merge.run ?? state.merge.resumable)?.sensors === newest) return newest;
  return keptRevision(state, placed, epoch, context) ?? newest;
}

/** The revision of the run to which the item belongs: the one that is being welded, or one that may still be lit again. */
function keptRevision({ arcs, epoch: current, merge, sensors }: FoldState, { item, start }: PlacedItem, epoch: number, context: FoldContext): number | null {
  const isSame = (before: number): boolean => epoch === before || (context.assigned(epoch) && context.sameRun(before, epoch));
  if (arcs.some((own) => mayBurn(own, context.settings))) return isSame(current) ? sensors : null;
  const run = merge.run ?? merge.resumable;
  if (run === null || !isSame(run.epoch)) return null;
  // Lit far from where it went out, it is the next attempt.
  if (item.travel !== null && isFarFrom(run, valueAt(item.travel, 0))) return null;
  return context.assigned(epoch) || (merge.run !== null && start - run.lastOn < context.settings.unassignedRunEndAfter) ? run.sensors : null;
}

/** Whether an arc burns, or has sent something that may turn out to be its ignition. */
function mayBurn({ on, undecided, decided, pending, part }: ArcState, { arcOnCurrent, arcOnVoltage }: WeldSettings): boolean {
  if (on || undecided.length > 0 || decided.some(({ kind }) => kind === 'on' || kind === 'gap')) return true;
  if (part !== null && part.currentSquared >= arcOnCurrent ** 2 * part.time && part.voltageSquared >= arcOnVoltage ** 2 * part.time) return true;
  if (pending === null) return false;
  const { current, voltage, count } = pending.placed.item;
  for (let k = 0; k < count; k += 1) if (Math.abs(valueAt(current, k)) >= arcOnCurrent && Math.abs(valueAt(voltage, k)) >= arcOnVoltage) return true;
  return false;
}

import { epochAt } from '../../../shared/weld/run/assignment-timeline.js';
import { isAfter } from '../../../shared/weld/items/place.js';
import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import { seriesOf } from '../../../shared/weld/run/turn-series.js';
import { comparePositions, type OrderedItem, type Position } from '../../../shared/weld/items/order.js';
import type { FoldDeps } from './fold-deps.js';
import type { Carriage } from './carriage.js';
import type { RunEntry } from './run-book.js';

/** Whether a place lies between the first item of a run and the end of its items. */
export function belongsTo(run: Pick<RunEntry, 'first' | 'to'>, place: Position): boolean {
  if (run.first === null || run.to === null) return false;
  return !isAfter(run.first, place) && !isAfter(place, run.to);
}

/** The run with which an item from before the floor is listed; `none` if there is no run. */
export type ListedWith = { readonly id: string } | 'none';

/**
 * The decided run on whose list of late items an item has to go: the run to which it belongs, the run under the same assignment that it would begin
 * earlier, or `behindFloor` if the item lies before the floor. Null if it is folded like any other.
 */
export function decidedRunOf({ intake, fold, runs }: Carriage, item: OrderedItem, behindFloor: ListedWith | undefined, { lateFor }: Pick<FoldDeps, 'lateFor'>): ListedWith | null {
  const { newest, timeline } = intake;
  const { dirtyFrom, floor } = fold;
  // No run ends after the newest item, and once everything is folded the newest is known.
  if (dirtyFrom === null && newest !== null && isAfter(item, newest)) return null;
  const decidedBefore = item.arrived - lateFor;
  const decided = [...runs.entries.values()].filter(({ finished }) => finished !== null && finished < decidedBefore);
  const own = decided.find((run) => belongsTo(run, item));
  if (own !== undefined) return own;
  if (floor !== null && comparePositions(item, floor) <= 0) return behindFloor ?? 'none';
  if (decided.length === 0) return null;
  const epoch = epochAt(timeline, { item, start: item.time ?? item.arrived }, -1);
  if (timeline[epoch]?.body == null) return null;
  return decided.find((run) => seriesOf(timeline, entryIndex(run.epoch)) === epoch && run.first !== null && isAfter(run.first, item)) ?? null;
}

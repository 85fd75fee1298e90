import { epochAt, isAfter } from '../../shared/weld/assignment-timeline.js';
import type { OrderedItem, Position } from '../../shared/weld/order.js';
import { comparePositions } from '../../shared/weld/order.js';
import type { FoldDeps } from './fold-deps.js';
import type { RunEntry, StreamState } from './stream-state.js';

/** Whether a place lies from the first item of a run to where its items end. */
export function belongsTo(run: Pick<RunEntry, 'first' | 'to'>, place: Position): boolean {
  if (run.first === null || run.to === null) return false;
  return !isAfter(run.first, place) && !isAfter(place, run.to);
}

/**
 * The decided run on whose list of late items an item has to go: the one it belongs to, the one whose beginning under the same
 * assignment it would be, and where what lies around it was let go of, the one that comes next in order, or else the last. Null where it is
 * folded like any other; `none` where it belongs before what was let go of and there is no run to list it with.
 */
export function decidedRunOf(stream: StreamState, item: OrderedItem, { statements, lateFor }: Pick<FoldDeps, 'statements' | 'lateFor'>): { readonly id: string } | 'none' | null {
  const { newest, dirtyFrom, floor } = stream;
  // No run ends behind the newest item, and once all is folded the newest is known.
  if (dirtyFrom === null && newest !== null && isAfter(item, newest)) return null;
  const decidedBefore = item.arrived - lateFor;
  const decided = [...stream.runs.values()].filter(({ finished }) => finished !== null && finished < decidedBefore);
  const own = decided.find((run) => belongsTo(run, item));
  if (own !== undefined) return own;
  if (floor !== null && comparePositions(item, floor) <= 0) {
    const { rank, key } = item;
    // A run before the floor stays what it is, whatever the clock says of its end.
    return statements.decidedBehind.get(stream.id, decidedBefore, rank, key) ?? statements.lastDecided.get(stream.id, decidedBefore) ?? statements.runBefore.get(stream.id, floor.ordinal) ?? 'none';
  }
  if (decided.length === 0) return null;
  const epoch = epochAt(stream.timeline, { item, start: item.time ?? item.arrived }, -1);
  if (stream.timeline[epoch]?.body == null) return null;
  return decided.find((run) => run.epoch === epoch && run.first !== null && isAfter(run.first, item)) ?? null;
}

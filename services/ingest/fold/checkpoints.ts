import type { FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { comparePositions, type OrderedItem, type Position } from '../../../shared/weld/items/order.js';
import { checkpointSum, writeFold, type CheckpointPlace } from './fold-checkpoint.js';
import type { FoldDeps } from './fold-deps.js';
import { foldShape } from './fold-shape.js';
import { arrivalsPerMessage } from './message-log.js';
import type { Carriage } from './carriage.js';
import type { CarriageFold, PlacedCheckpoint } from './fold-state.js';
import { forgetUnrecorded, noteCheckpoint } from './outbox.js';

/** A checkpoint is written each time the stream has advanced by this much, µs. */
const defaultEvery = 60_000_000;

type Changing = Pick<FoldDeps, 'changes'>;

/** Writes a checkpoint if one is due; `unfolded` is the lowest arrival number that waits to be folded. */
export function keepCheckpoint(carriage: Carriage, state: FoldState, unfolded: number, deps: FoldDeps): void {
  const { fold, outbox } = carriage;
  const { newest, position } = state;
  if (newest === null || position === null) return;
  if (fold.checkpointAt !== null && newest - fold.checkpointAt < (deps.checkpointEvery ?? defaultEvery)) return;
  fold.checkpointAt = newest;
  fold.checkpoint = position;
  noteCheckpoint(outbox, position);
  let needed = unfolded;
  for (const stretch of fold.live.stretches) {
    for (const item of stretch.items) needed = Math.min(needed, item.arrival);
  }
  addCheckpoint(carriage, state, position, needed === Infinity ? deps.numbers.message + 1 : Math.floor(needed / arrivalsPerMessage), deps);
  if (state.merge.run !== null) thinCheckpoints(fold, state.merge.ordinal, deps);
}

/** Queues the state after the item at `position` to be written. `keptFrom` is the number of the first message that is needed after it. */
export function addCheckpoint({ id, fold }: Pick<Carriage, 'id' | 'fold'>, state: FoldState, position: Position, keptFrom: number, { changes, numbers, now }: Pick<FoldDeps, 'changes' | 'numbers' | 'now'>, floor?: true): void {
  const saved = writeFold(state);
  const { merge, held } = state;
  const run = merge.run ?? merge.resumable;
  const place: CheckpointPlace = {
    ...position, ordinal: merge.ordinal, shape: foldShape(), held, sum: checkpointSum(saved, keptFrom),
    ...(run === null ? {} : { reaches: { run: run.ordinal, next: merge.next } }), ...(floor === undefined ? {} : { floor }),
  };
  const own = { number: (numbers.checkpoint += 1), place, keptFrom, created: now() };
  fold.checkpoints.push(own);
  changes.checkpoints.push({ stream: id, number: own.number, position: JSON.stringify(place), keptFrom, created: own.created, state: saved });
}

/** How many of the newest checkpoints within an open run are all kept; common practice, no source. */
const keptDense = 10;

/**
 * Thins out the checkpoints of a run, which may last for days and is contained whole in each of them. Enough of the older ones stay that folding
 * again from the one before any place takes at most about twice as long as from that place. None of them can be a floor while the run is open.
 */
function thinCheckpoints(fold: CarriageFold, ordinal: number, deps: Changing): void {
  const inRun = fold.checkpoints.filter(({ place }) => place.ordinal === ordinal && place.floor !== true);
  const newest = inRun.at(-1)?.number ?? 0;
  let before = inRun[0]?.number ?? 0;
  for (let at = 1; at < inRun.length - keptDense; at += 1) {
    const own = inRun[at]?.number ?? 0;
    const behind = inRun[at + 1]?.number ?? 0;
    // Checkpoints are evenly spaced, so the difference of their numbers measures the distance between them.
    if (newest - before <= 2 * (newest - behind)) dropCheckpoints(fold, ({ number }) => number === own, deps);
    else before = own;
  }
}

export function dropCheckpoints(fold: CarriageFold, which: (checkpoint: PlacedCheckpoint) => boolean, { changes }: Changing): void {
  fold.checkpoints = fold.checkpoints.filter((own) => {
    if (!which(own)) return true;
    changes.checkpoints.push({ drop: own.number });
    return false;
  });
}

/** Drops the checkpoints that lack any of these items, which are about to be stored. */
export function dropWhatLacks(fold: CarriageFold, items: readonly OrderedItem[], deps: Changing): void {
  let first: Position | null = null;
  for (const item of items) {
    if (fold.checkpoint === null || comparePositions(item, fold.checkpoint) > 0) continue;
    if (first === null || comparePositions(item, first) < 0) first = item;
  }
  if (first !== null) dropFrom(fold, first, deps);
}

/** Marks everything that is still kept to be folded again, because its assignments have changed. */
export function foldFromStart({ fold, outbox }: Carriage, deps: Changing): void {
  dropFrom(fold, null, deps);
  forgetUnrecorded(outbox);
  fold.dirtyFrom = 'start';
}

/** Marks the items to be folded again from the newest checkpoint that is left. A run that has ended and is not recorded yet has to end again. */
export function foldFromLatest({ fold, runs, outbox }: Carriage, deps: Changing): void {
  const first = Math.min(...runs.finished.keys());
  if (first < Infinity) dropUntil(fold, ({ place }) => place.ordinal <= first, deps);
  if (outbox.unrecorded !== null) dropFrom(fold, outbox.unrecorded, deps);
  forgetUnrecorded(outbox);
  fold.dirtyFrom = 'latest';
}

/**
 * Marks a run to be folded again whose rows from the index `end` on were cut and are needed after all: from the newest checkpoint at which the run
 * had not yet come that far. The run may have been welded for days before.
 */
export function foldFromRow(carriage: Carriage, { ordinal }: { readonly ordinal: number }, end: number, deps: Changing): void {
  dropUntil(carriage.fold, ({ place }) => place.ordinal <= ordinal || (place.reaches?.run === ordinal && (place.reaches.next ?? -Infinity) <= end), deps);
  foldFromLatest(carriage, deps);
}

/** Drops the newest checkpoints until one `fits`. */
function dropUntil(fold: CarriageFold, fits: (checkpoint: PlacedCheckpoint) => boolean, deps: Changing): void {
  const last = fold.checkpoints.findLast((own) => own.place.floor === true || fits(own));
  dropCheckpoints(fold, ({ number }) => last === undefined || number > last.number, deps);
  fold.checkpoint = last?.place ?? null;
}

function dropFrom(fold: CarriageFold, first: Position | null, deps: Changing): void {
  dropCheckpoints(fold, ({ place }) => place.floor !== true && (first === null || comparePositions(place, first) >= 0), deps);
  fold.checkpoint = fold.checkpoints.at(-1)?.place ?? null;
}

/** Makes the newest checkpoint that `fits` the floor and drops older ones; the messages before the returned number may be dropped too. */
export function raiseFloor(fold: CarriageFold, fits: (checkpoint: PlacedCheckpoint) => boolean, deps: Changing): number | null {
  const floor = fold.checkpoints.findLast(fits);
  if (floor === undefined) return null;
  if (floor.place.floor !== true) replacePlace(fold, floor, { ...floor.place, floor: true }, null, deps);
  fold.floor = floor.place;
  dropCheckpoints(fold, ({ number }) => number < floor.number, deps);
  return floor.keptFrom;
}

/** Queues another place to be stored for a checkpoint, and another state if one is given. */
export function replacePlace(fold: CarriageFold, { number }: PlacedCheckpoint, place: CheckpointPlace, state: Uint8Array | null, { changes }: Changing): void {
  fold.checkpoints = fold.checkpoints.map((own) => (own.number === number ? { ...own, place } : own));
  changes.checkpoints.push({ number, position: JSON.stringify(place), state });
}

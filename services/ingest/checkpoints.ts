import type { FoldState } from '../../shared/weld/carriage-fold.js';
import type { OrderedItem, Position } from '../../shared/weld/order.js';
import { comparePositions } from '../../shared/weld/order.js';
import type { CheckpointPlace } from './fold-checkpoint.js';
import { checkpointSum, writeFold } from './fold-checkpoint.js';
import type { FoldDeps } from './fold-deps.js';
import { foldShape } from './fold-shape.js';
import { arrivalsPerMessage } from './keep-messages.js';
import type { StreamState } from './stream-state.js';

/** A checkpoint is written when the stream has gone on by this much, µs. */
const defaultEvery = 60_000_000;

/**
 * Checkpoints are shortcuts. Every one that is stored holds all stored items up to its place, at every commit: where an item comes
 * that one lacks, it goes in the same transaction. Only the floor stays, since the items up to it were let go of; nothing that
 * comes later and belongs before it enters this fold.
 */
export interface PlacedCheckpoint {
  /** Rises with every checkpoint, over all carriages. */
  readonly number: number;
  readonly place: CheckpointPlace;
  readonly keptFrom: number;
  /** µs since 1970. */
  readonly created: number;
}

type Changing = Pick<FoldDeps, 'changes'>;

/** Writes a checkpoint where one is due; `unfolded` is the lowest number of arrival that waits to be folded. */
export function keepCheckpoint(stream: StreamState, state: FoldState, unfolded: number, deps: FoldDeps): void {
  const { newest, position } = state;
  if (newest === null || position === null) return;
  if (stream.checkpointAt !== null && newest - stream.checkpointAt < (deps.checkpointEvery ?? defaultEvery)) return;
  stream.checkpointAt = newest;
  stream.checkpoint = position;
  stream.unrecorded ??= position;
  let needed = unfolded;
  for (const stretch of stream.live.stretches) {
    for (const item of stretch.items) needed = Math.min(needed, item.arrival);
  }
  addCheckpoint(stream, state, position, needed === Infinity ? deps.numbers.message + 1 : Math.floor(needed / arrivalsPerMessage), deps);
  if (state.merge.run !== null) thinCheckpoints(stream, state.merge.ordinal, deps);
}

/** Has the state behind the item at `position` written. `keptFrom` is the number of the first message that is needed behind it. */
export function addCheckpoint(stream: StreamState, state: FoldState, position: Position, keptFrom: number, { changes, numbers, now }: Pick<FoldDeps, 'changes' | 'numbers' | 'now'>, floor?: true): void {
  const saved = writeFold(state);
  const { merge, held } = state;
  const run = merge.run ?? merge.resumable;
  const place: CheckpointPlace = {
    ...position, ordinal: merge.ordinal, shape: foldShape(), held, sum: checkpointSum(saved, keptFrom),
    ...(run === null ? {} : { reaches: { run: run.ordinal, next: merge.next } }), ...(floor === undefined ? {} : { floor }),
  };
  // What is kept before it may be let go of one day.
  stream.marksDue = true;
  const own = { number: (numbers.checkpoint += 1), place, keptFrom, created: now() };
  stream.checkpoints.push(own);
  changes.checkpoints.push({ stream: stream.id, number: own.number, position: JSON.stringify(place), keptFrom, created: own.created, state: saved });
}

/** The newest ones within an open run that are all kept; common practice, no source. */
const keptDense = 10;

/**
 * A run may go on for days, and each checkpoint within it holds all of it: of the older ones so many stay that folding again from the one
 * before any place takes at most about twice as long as from there. None of them can be a floor while the run is open.
 */
function thinCheckpoints(stream: StreamState, ordinal: number, deps: Changing): void {
  const inRun = stream.checkpoints.filter(({ place }) => place.ordinal === ordinal && place.floor !== true);
  const newest = inRun.at(-1)?.number ?? 0;
  let before = inRun[0]?.number ?? 0;
  for (let at = 1; at < inRun.length - keptDense; at += 1) {
    const own = inRun[at]?.number ?? 0;
    const behind = inRun[at + 1]?.number ?? 0;
    // Checkpoints are made at even distances, so that their numbers stand for the way between them.
    if (newest - before <= 2 * (newest - behind)) dropCheckpoints(stream, ({ number }) => number === own, deps);
    else before = own;
  }
}

export function dropCheckpoints(stream: StreamState, which: (checkpoint: PlacedCheckpoint) => boolean, { changes }: Changing): void {
  stream.checkpoints = stream.checkpoints.filter((own) => {
    if (!which(own)) return true;
    changes.checkpoints.push({ drop: own.number });
    return false;
  });
}

/** Lets go of the checkpoints that lack any of these items, which are about to be stored. */
export function dropWhatLacks(stream: StreamState, items: readonly OrderedItem[], deps: Changing): void {
  let first: Position | null = null;
  for (const item of items) {
    if (stream.checkpoint === null || comparePositions(item, stream.checkpoint) > 0) continue;
    if (first === null || comparePositions(item, first) < 0) first = item;
  }
  if (first !== null) dropFrom(stream, first, deps);
}

/** What was folded has other assignments now: all of it that is still kept is folded again. */
export function foldFromStart(stream: StreamState, deps: Changing): void {
  dropFrom(stream, null, deps);
  stream.unrecorded = null;
  stream.dirtyFrom = 'start';
}

/** What was folded is folded again from the newest checkpoint that is left. A run that has ended and is not recorded yet has to end again. */
export function foldFromLatest(stream: StreamState, deps: Changing): void {
  const first = Math.min(...stream.finishedRuns.keys());
  if (first < Infinity) dropUntil(stream, ({ place }) => place.ordinal <= first, deps);
  if (stream.unrecorded !== null) dropFrom(stream, stream.unrecorded, deps);
  stream.unrecorded = null;
  stream.dirtyFrom = 'latest';
}

/**
 * Rows of a run from the index `end` on were cut and are wanted after all: folded again is what lies behind the newest checkpoint at which
 * the run had not come so far. It may have been welded for days before.
 */
export function foldFromRow(stream: StreamState, { ordinal }: { readonly ordinal: number }, end: number, deps: Changing): void {
  dropUntil(stream, ({ place }) => place.ordinal <= ordinal || (place.reaches?.run === ordinal && (place.reaches.next ?? -Infinity) <= end), deps);
  foldFromLatest(stream, deps);
}

/** Lets go of the newest checkpoints until one `fits`. */
function dropUntil(stream: StreamState, fits: (checkpoint: PlacedCheckpoint) => boolean, deps: Changing): void {
  const last = stream.checkpoints.findLast((own) => own.place.floor === true || fits(own));
  dropCheckpoints(stream, ({ number }) => last === undefined || number > last.number, deps);
  stream.checkpoint = last?.place ?? null;
}

function dropFrom(stream: StreamState, first: Position | null, deps: Changing): void {
  dropCheckpoints(stream, ({ place }) => place.floor !== true && (first === null || comparePositions(place, first) >= 0), deps);
  stream.checkpoint = stream.checkpoints.at(-1)?.place ?? null;
}

/** Makes the newest checkpoint that `fits` the floor; what is older goes, and so may the messages before the number it returns. */
export function raiseFloor(stream: StreamState, fits: (checkpoint: PlacedCheckpoint) => boolean, deps: Changing): number | null {
  const floor = stream.checkpoints.findLast(fits);
  if (floor === undefined) return null;
  if (floor.place.floor !== true) replacePlace(stream, floor, { ...floor.place, floor: true }, null, deps);
  stream.floor = floor.place;
  dropCheckpoints(stream, ({ number }) => number < floor.number, deps);
  return floor.keptFrom;
}

/** Has another place stored for a checkpoint, and another state where one is given. */
export function replacePlace(stream: StreamState, { number }: PlacedCheckpoint, place: CheckpointPlace, state: Uint8Array | null, { changes }: Changing): void {
  stream.checkpoints = stream.checkpoints.map((own) => (own.number === number ? { ...own, place } : own));
  changes.checkpoints.push({ number, position: JSON.stringify(place), state });
}

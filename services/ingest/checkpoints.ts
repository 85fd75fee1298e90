import { damageError, fileOf } from '../../shared/sqlite/damage.js';
import type { FoldState } from '../../shared/weld/carriage-fold.js';
import type { OrderedItem, Position } from '../../shared/weld/order.js';
import { comparePositions } from '../../shared/weld/order.js';
import type { CheckpointPlace } from './fold-checkpoint.js';
import { checkedFold, checkpointSum, foldFromFloor, writeFold } from './fold-checkpoint.js';
import type { FoldDeps } from './fold-deps.js';
import { foldShape } from './fold-shape.js';
import { arrivalsPerMessage } from './keep-messages.js';
import type { CheckpointRow, Statements } from './statements.js';
import type { StreamState } from './stream-state.js';
import { countWhatIsStored } from './count-stored.js';

/** A checkpoint is written when the stream has gone on by this much, µs. */
const defaultEvery = 60_000_000;

/**
 * Checkpoints are shortcuts. Every one that is stored holds all stored items up to its place, at every commit: where an item comes
 * that one lacks, it goes in the same transaction. Only the floor stays, since the items up to it were let go of; nothing that
 * comes later and belongs before it enters this fold.
 */
export interface PlacedCheckpoint extends CheckpointRow {
  readonly place: CheckpointPlace;
}

export function checkpointsOf(stream: StreamState, statements: Statements): PlacedCheckpoint[] {
  return statements.checkpoints.all(stream.id).flatMap((row) => {
    const place = readPlace(row.position);
    if (place !== null) return [{ ...row, place }];
    // What was let go of is known by the floor alone: without it the kept items would be taken for all there were.
    if (row.position.includes('"floor"')) throw damageError(fileOf(statements.db), `how far the items of ${stream.site}/${stream.carriage} were let go of`, new Error('its place is no JSON'));
    statements.dropCheckpoint.run(row.id);
    return [];
  });
}

function readPlace(text: string): CheckpointPlace | null {
  try {
    return JSON.parse(text) as CheckpointPlace;
  } catch {
    return null;
  }
}

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
  const keptFrom = needed === Infinity ? deps.kept.last + 1 : Math.floor(needed / arrivalsPerMessage);
  const saved = writeFold(state);
  const place: CheckpointPlace = { ...position, ordinal: state.merge.ordinal, shape: foldShape(), held: state.held, sum: checkpointSum(saved, keptFrom) };
  deps.statements.addCheckpoint.run(stream.id, JSON.stringify(place), keptFrom, deps.now(), saved);
  if (state.merge.run !== null) thinCheckpoints(stream, place.ordinal, deps.statements);
}

/** The newest ones within an open run that are all kept; common practice, no source. */
const keptDense = 10;

/**
 * A run may go on for days, and each checkpoint within it holds all of it: of the older ones so many stay that folding again from the one
 * before any place takes at most about twice as long as from there. None of them can be a floor while the run is open.
 */
function thinCheckpoints(stream: StreamState, ordinal: number, statements: Statements): void {
  const inRun = checkpointsOf(stream, statements).filter(({ place }) => place.ordinal === ordinal && place.floor !== true);
  const newest = inRun.at(-1)?.id ?? 0;
  let before = inRun[0]?.id ?? 0;
  for (let at = 1; at < inRun.length - keptDense; at += 1) {
    const own = inRun[at]?.id ?? 0;
    const behind = inRun[at + 1]?.id ?? 0;
    // Checkpoints are made at even distances, so that their numbers stand for the way between them.
    if (newest - before <= 2 * (newest - behind)) statements.dropCheckpoint.run(own);
    else before = own;
  }
}

/** Lets go of the checkpoints that lack any of these items, which are about to be stored. */
export function dropWhatLacks(stream: StreamState, items: readonly OrderedItem[], statements: Statements): void {
  let first: Position | null = null;
  for (const item of items) {
    if (stream.checkpoint === null || comparePositions(item, stream.checkpoint) > 0) continue;
    if (first === null || comparePositions(item, first) < 0) first = item;
  }
  if (first !== null) dropFrom(stream, first, statements);
}

/** What was folded has other assignments now: all of it that is still kept is folded again. */
export function foldFromStart(stream: StreamState, statements: Statements): void {
  dropFrom(stream, null, statements);
  stream.unrecorded = null;
  stream.dirtyFrom = 'start';
}

/** What was folded is folded again from the newest checkpoint that is left. A run that has ended and is not recorded yet has to end again. */
export function foldFromLatest(stream: StreamState, statements: Statements): void {
  const first = Math.min(...stream.finishedRuns.keys());
  if (first < Infinity) dropUntil(stream, ({ place }) => place.ordinal <= first, statements);
  if (stream.unrecorded !== null) dropFrom(stream, stream.unrecorded, statements);
  stream.unrecorded = null;
  stream.dirtyFrom = 'latest';
}

/**
 * Rows of a run from the index `end` on were cut and are wanted after all: folded again is what lies behind the newest checkpoint at which
 * the run had not come so far. It may have been welded for days before.
 */
export function foldFromRow(stream: StreamState, { ordinal }: { readonly ordinal: number }, end: number, statements: Statements): void {
  dropUntil(stream, (checkpoint) => {
    if (checkpoint.place.ordinal <= ordinal) return true;
    const merge = stateOf(checkpoint, statements)?.merge;
    return merge !== undefined && (merge.run ?? merge.resumable)?.ordinal === ordinal && (merge.next ?? -Infinity) <= end;
  }, statements);
  foldFromLatest(stream, statements);
}

/** Lets go of the newest checkpoints until one `fits`. */
function dropUntil(stream: StreamState, fits: (checkpoint: PlacedCheckpoint) => boolean, statements: Statements): void {
  let newest: Position | null = null;
  for (const checkpoint of checkpointsOf(stream, statements).reverse()) {
    newest = checkpoint.place;
    if (checkpoint.place.floor === true || fits(checkpoint)) break;
    statements.dropCheckpoint.run(checkpoint.id);
    newest = null;
  }
  stream.checkpoint = newest;
}

function dropFrom(stream: StreamState, first: Position | null, statements: Statements): void {
  let newest: Position | null = null;
  for (const { id, place } of checkpointsOf(stream, statements)) {
    if (place.floor === true || (first !== null && comparePositions(place, first) < 0)) newest = place;
    else statements.dropCheckpoint.run(id);
  }
  stream.checkpoint = newest;
}

/** Null where the store no longer gives it as it was written. */
function stateOf({ id, place, kept_from }: PlacedCheckpoint, statements: Statements): FoldState | null {
  const saved = statements.checkpointState.get(id);
  return saved === undefined ? null : checkedFold(saved.state, place, kept_from);
}

/**
 * Where folding again begins: the newest checkpoint, or the very start. One that the store no longer gives as it was written is let go of, and what
 * it held is folded again; of a floor, whose items were let go of, that is left which stands beside its state.
 */
export function beginning(stream: StreamState, deps: Pick<FoldDeps, 'statements' | 'tellDamage'>): { readonly state: FoldState; readonly keptFrom: number } | null {
  const { statements } = deps;
  for (const checkpoint of checkpointsOf(stream, statements).reverse()) {
    const { id, place, kept_from } = checkpoint;
    const state = stateOf(checkpoint, statements);
    // Earlier versions wrote one that held a run before the run's record: folded from there, the run would be lost.
    if (state !== null && lacksRecord(stream, state) && place.floor !== true) {
      statements.dropCheckpoint.run(id);
      continue;
    }
    if (state !== null) {
      stream.checkpoint = place;
      return { state, keptFrom: kept_from };
    }
    deps.tellDamage?.(`a checkpoint of ${stream.site}/${stream.carriage} is other than it was written: ${place.floor === true ? 'what is known of the time before it may be wrong' : 'it is dropped, and its items are folded again'}`);
    if (place.floor === true) return { state: foldFromFloor(place, place.held), keptFrom: 0 };
    statements.dropCheckpoint.run(id);
  }
  stream.checkpoint = null;
  return null;
}

/** Whether nothing is stored of the run that a checkpoint holds, as far as is known of a stream that was just read from the store. */
function lacksRecord({ runs, refoldedAt }: StreamState, { merge }: FoldState): boolean {
  const held = merge.run ?? merge.resumable;
  return refoldedAt === null && held !== null && !runs.has(held.ordinal);
}

/** Makes the newest checkpoint that `fits` the floor; what is older goes, and so may the messages before the number it returns. */
export function raiseFloor(stream: StreamState, fits: (checkpoint: PlacedCheckpoint) => boolean, statements: Statements): number | null {
  const all = checkpointsOf(stream, statements);
  const floor = all.findLast(fits);
  if (floor === undefined) return null;
  if (floor.place.floor !== true) statements.setFloor.run(JSON.stringify({ ...floor.place, floor: true } satisfies CheckpointPlace), null, floor.id);
  stream.floor = floor.place;
  for (const { id } of all) if (id < floor.id) statements.dropCheckpoint.run(id);
  return floor.kept_from;
}

/** Brings what an earlier version left to what this one relies on, and notes where the checkpoints stand. */
export function openCheckpoints(stream: StreamState, deps: FoldDeps): void {
  const { statements } = deps;
  const stored = countWhatIsStored(stream, checkpointsOf(stream, statements), deps);
  for (const { id, place, kept_from } of checkpointsOf(stream, statements)) {
    const isFloor = place.floor === true || id === stored?.floor;
    if (place.shape !== foldShape() && !isFloor) {
      statements.dropCheckpoint.run(id);
      continue;
    }
    if (place.shape !== foldShape()) {
      const held = stored?.held ?? place.held;
      const saved = writeFold(foldFromFloor(place, held));
      statements.setFloor.run(JSON.stringify({ ...place, shape: foldShape(), held, floor: true, sum: checkpointSum(saved, kept_from) } satisfies CheckpointPlace), saved, id);
    }
    if (isFloor) stream.floor = place;
    stream.checkpoint = place;
  }
}

import { deserialize, serialize } from 'node:v8';
import { crc32 } from 'node:zlib';
import { startFold, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { sameTally, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import { comparePositions, type Position } from '../../../shared/weld/items/order.js';

/** Where a checkpoint stands, and the ordinal of the next run at it. */
export interface CheckpointPlace extends Position {
  readonly ordinal: number;
  /**
   * The shape of its state (`foldShape`); none where a number stood in its place. One of another shape is left unused, and the kept items give
   * the state again. Only a floor's state can not be given again.
   */
  readonly shape?: string;
  /** The items up to there, all of which its state holds. */
  readonly held: ItemTally;
  /** The run that its state holds and the index of its next row, null before the first; none where an earlier version wrote it. */
  readonly reaches?: { readonly run: number; readonly next: number | null };
  /** The kept items up to there were let go of: nothing but its state knows of them. */
  readonly floor?: true;
  /** Checksum of its state (see `checkpointSum`); none where an earlier version wrote it. */
  readonly sum?: number;
}

/** CRC-32 (ISO 3309, as zlib has it) of a checkpoint's state and of the number of the first message that is needed behind it. */
export function checkpointSum(state: Uint8Array, keptFrom: number): number {
  return crc32(state, crc32(String(keptFrom)));
}

/** The state of a stored checkpoint; null where it is other than it was written, or does not stand where it is said to. */
export function checkedFold(saved: Uint8Array, place: CheckpointPlace, keptFrom: number): FoldState | null {
  if (place.sum !== undefined && place.sum !== checkpointSum(saved, keptFrom)) return null;
  const state = readFold(saved);
  if (place.sum === undefined) return state;
  const { position, held, merge } = state;
  const stands = position !== null && comparePositions(position, place) === 0 && merge.ordinal === place.ordinal && sameTally(held, place.held);
  return stands ? state : null;
}

export function writeFold(state: FoldState): Uint8Array {
  return serialize(state);
}

/** Reads a state of the present `foldShape`. */
export function readFold(saved: Uint8Array): FoldState {
  return deserialize(saved) as FoldState;
}

/**
 * The fold's beginning at a floor of another shape, whose state can not be read: every run that can still change began
 * behind it, so that what it no longer knows is where the carriage stood, and a decided run that its seam would light again.
 */
export function foldFromFloor(place: CheckpointPlace, held: ItemTally): FoldState {
  const state = startFold();
  const { rank, key, arc, arrival } = place;
  return { ...state, merge: { ...state.merge, ordinal: place.ordinal }, position: { rank, key, arc, arrival }, held };
}

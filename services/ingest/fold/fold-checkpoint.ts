import { deserialize, serialize } from 'node:v8';
import { crc32 } from 'node:zlib';
import { startFold, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { sameTally, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import { comparePositions, type Position } from '../../../shared/weld/items/order.js';

/** The position of a checkpoint, and the ordinal of the next run there. */
export interface CheckpointPlace extends Position {
  readonly ordinal: number;
  /**
   * The shape of its state (`foldShape`); absent where earlier versions wrote a number instead. A checkpoint of another shape is left unused, and its
   * state is computed again from the kept items. Only the state of a floor cannot be computed again.
   */
  readonly shape?: string;
  /** The items up to this position, all of which are in its state. */
  readonly held: ItemTally;
  /** The run in its state and the index of that run's next row, null before the first; absent if an earlier version wrote the checkpoint. */
  readonly reaches?: { readonly run: number; readonly next: number | null };
  /** The kept items up to this position were dropped: they survive only in its state. */
  readonly floor?: true;
  /** Checksum of its state (see `checkpointSum`); absent if an earlier version wrote the checkpoint. */
  readonly sum?: number;
}

/** CRC-32 (ISO 3309, as in zlib) of a checkpoint's state and of the number of the first message that is needed after it. */
export function checkpointSum(state: Uint8Array, keptFrom: number): number {
  return crc32(state, crc32(String(keptFrom)));
}

/** The state of a stored checkpoint of the present `foldShape`; null if it differs from what was written, or is not at the position that its row gives. */
export function checkedFold(saved: Uint8Array, place: CheckpointPlace, keptFrom: number): FoldState | null {
  if (place.sum !== undefined && place.sum !== checkpointSum(saved, keptFrom)) return null;
  const state = deserialize(saved) as FoldState;
  if (place.sum === undefined) return state;
  const { position, held, merge } = state;
  const stands = position !== null && comparePositions(position, place) === 0 && merge.ordinal === place.ordinal && sameTally(held, place.held);
  return stands ? state : null;
}

export function writeFold(state: FoldState): Uint8Array {
  return serialize(state);
}

/**
 * The beginning of the fold at a floor of another shape, whose state cannot be read. Every run that can still change began after it, so all that is
 * lost is where the carriage was, and a decided run that would be continued by lighting its seam again.
 */
export function foldFromFloor(place: CheckpointPlace, held: ItemTally): FoldState {
  const state = startFold();
  const { rank, key, arc, arrival } = place;
  return { ...state, merge: { ...state.merge, ordinal: place.ordinal }, position: { rank, key, arc, arrival }, held };
}

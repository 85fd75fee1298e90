import { deserialize, serialize } from 'node:v8';
import type { FoldState } from '../../shared/weld/carriage-fold.js';

/**
 * Raised whenever the shape or the meaning of the fold's state changes: a checkpoint of another version is left
 * unused, and the kept items give the state again.
 */
export const foldVersion = 3;

export function writeFold(state: FoldState): Uint8Array {
  return serialize(state);
}

/** Reads a state that was written under the present `foldVersion`. */
export function readFold(saved: Uint8Array): FoldState {
  return deserialize(saved) as FoldState;
}

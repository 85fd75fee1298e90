import { deserialize, serialize } from 'node:v8';
import type { FoldState } from '../../shared/weld/carriage-fold.js';

/** Raised whenever the shape or the meaning of the fold's state changes: an older checkpoint is then left unused. */
const foldVersion = 1;

interface SavedFold {
  readonly version: number;
  readonly state: FoldState;
}

export function writeFold(state: FoldState): Uint8Array {
  return serialize({ version: foldVersion, state } satisfies SavedFold);
}

/** The state, or null where another version of the program wrote it: the kept items give it again. */
export function readFold(saved: Uint8Array): FoldState | null {
  const { version, state } = deserialize(saved) as SavedFold;
  return version === foldVersion ? state : null;
}

import { createHash } from 'node:crypto';
import { arcColumns, runColumns } from '../../../shared/weld/rows/row.js';
import { sampleFold } from './sample-fold.js';
import { noteShape, shapeLines, type StateShape } from './state-shape.js';

/** Raised when a part of the fold's state keeps its keys and kinds but changes its meaning, for instance its unit. */
const meaning = 1;

/** What `foldShape` found when the program was built (services/vite.config.ts), so that no start has to wait for it; absent where the sources are run. */
declare const builtFoldShape: string | undefined;

let shape: StateShape | null = null;
let hash: string | null = null;

/**
 * Which states along the invented weld are looked at: what there is of a part is there for some items, so that a third of them show all of it, and the
 * first few show what is there before anything is known. A test holds that the others have nothing more to show.
 */
const isLookedAt = (at: number): boolean => at % (at < 60 ? 2 : 3) === 0;

/** The shape of the fold's state, sampled from an invented weld in which every part of it occurs. It is computed once. */
export function sampledShape(): StateShape {
  return (shape ??= shapeOfSample(isLookedAt));
}

/** The shape of those states along the invented weld that are `seen`, by their number. */
export function shapeOfSample(seen: (at: number) => boolean): StateShape {
  const found: StateShape = new Map();
  let at = 0;
  for (const state of sampleFold()) {
    if (seen(at)) noteShape(found, state);
    at += 1;
  }
  return found;
}

/** Identifies the fold states from which this program can continue. It changes when a field or a column of rows is added, removed or changed. */
export function foldShape(): string {
  return (hash ??= typeof builtFoldShape === 'string' ? builtFoldShape : hashOf(sampledShape()));
}

export function hashOf(sampled: StateShape): string {
  return createHash('sha256').update([meaning, runColumns, arcColumns, ...shapeLines(sampled)].join('\n')).digest('hex').slice(0, 16);
}

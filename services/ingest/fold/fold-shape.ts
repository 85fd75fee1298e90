import { createHash } from 'node:crypto';
import { arcColumns, runColumns } from '../../../shared/weld/rows/row.js';
import { sampleFold } from './sample-fold.js';
import { noteShape, shapeLines, type StateShape } from './state-shape.js';

/** Raised where a part of the fold's state keeps its keys and kinds and means something else, such as another unit. */
const meaning = 1;

let shape: StateShape | null = null;
let hash: string | null = null;

/** What the fold's state looks like, by an invented weld that brings every part of it to light. Worked out once, which takes some 0.3 s. */
export function sampledShape(): StateShape {
  if (shape === null) {
    shape = new Map();
    for (const state of sampleFold()) noteShape(shape, state);
  }
  return shape;
}

/** Tells the states of the fold that this program can go on from: another where a field, or a column of rows, was added, removed, renamed or is of another kind. */
export function foldShape(): string {
  return (hash ??= hashOf(sampledShape()));
}

export function hashOf(sampled: StateShape): string {
  return createHash('sha256').update([meaning, runColumns, arcColumns, ...shapeLines(sampled)].join('\n')).digest('hex').slice(0, 16);
}

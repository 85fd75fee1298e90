import { createHash } from 'node:crypto';
import { arcColumns, runColumns } from '../../../shared/weld/rows/row.js';
import { sampleFold } from './sample-fold.js';
import { noteShape, shapeLines, type StateShape } from './state-shape.js';

/** Raised when a part of the fold's state keeps its keys and kinds but changes its meaning, for instance its unit. */
const meaning = 1;

let shape: StateShape | null = null;
let hash: string | null = null;

/** The shape of the fold's state, sampled from an invented weld in which every part of it occurs. It is computed once, which takes some 0.3 s. */
export function sampledShape(): StateShape {
  if (shape === null) {
    shape = new Map();
    for (const state of sampleFold()) noteShape(shape, state);
  }
  return shape;
}

/** Identifies the fold states from which this program can continue. It changes when a field or a column of rows is added, removed or changed. */
export function foldShape(): string {
  return (hash ??= hashOf(sampledShape()));
}

export function hashOf(sampled: StateShape): string {
  return createHash('sha256').update([meaning, runColumns, arcColumns, ...shapeLines(sampled)].join('\n')).digest('hex').slice(0, 16);
}

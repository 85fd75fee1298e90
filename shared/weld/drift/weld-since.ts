import type { RunRowGroup } from '../row.js';
import { rowLength } from '../row.js';
import type { RunSums } from '../run-sums.js';

/** Index of the arc's first row past its ignition in time and length; Infinity while that lasts. `rows` are the newest, in order. */
export function weldSince(rows: readonly RunRowGroup[], arc: number, { ignitions, parameters }: Pick<RunSums, 'ignitions' | 'parameters'>): number {
  const ignition = ignitions[arc];
  const oldest = rows[0]?.run.index;
  if (ignition === undefined || oldest === undefined) return 0;
  if (!ignition.done) return Infinity;
  const byTime = Math.ceil((ignition.litAt + parameters.ignitionTime) / rowLength);
  // Rows that do not go back to where it was lit cannot show its whole way; past the time they are taken to be past the length.
  if (oldest * rowLength > ignition.litAt) return byTime;
  let moved = 0;
  for (const { run } of rows) {
    if (moved >= parameters.ignitionLength) return Math.max(byTime, run.index);
    if ((run.index + 1) * rowLength > ignition.litAt) moved += run.length + run.gapLength;
  }
  // Where no speed is known the time alone has ended it.
  return byTime;
}

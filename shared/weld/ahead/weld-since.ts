import { columnOf, rowLength, runColumn } from '../rows/row.js';
import type { RowGroup } from '../rows/row-group.js';
import type { RunSums } from '../run/run-sums.js';

/** Index of the arc's first row past its ignition zone in time and length; Infinity while that zone lasts. The rows are the newest, in order. */
export function weldSince(groups: readonly RowGroup[], arc: number, { ignitions, parameters }: Pick<RunSums, 'ignitions' | 'parameters'>): number {
  const ignition = ignitions[arc];
  const [oldest] = groups;
  if (ignition === undefined || oldest === undefined) return 0;
  if (!ignition.done) return Infinity;
  const byTime = Math.ceil((ignition.litAt + parameters.ignitionTime) / rowLength);
  // Rows that do not go back to where the arc was lit cannot show its whole way; once the time is over, the length is assumed to be over too.
  if (columnOf(oldest.rows, oldest.at, runColumn.index) * rowLength > ignition.litAt) return byTime;
  let moved = 0;
  for (const { rows, at } of groups) {
    const index = columnOf(rows, at, runColumn.index);
    if (moved >= parameters.ignitionLength) return Math.max(byTime, index);
    if ((index + 1) * rowLength > ignition.litAt) moved += columnOf(rows, at, runColumn.length) + columnOf(rows, at, runColumn.gapLength);
  }
  // Where no speed is known, the time alone ends the zone.
  return byTime;
}

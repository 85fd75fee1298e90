import { arcColumns, columnOf, runColumns } from '../../../shared/weld/rows/row.js';
import { arcNumber, arcsEnd, arcStride, firstArc, type RowGroup } from '../../../shared/weld/rows/row-group.js';

export const noRows = new Float64Array(0);

/** Rows of one run on their way into the trace store: the rows of the run, and those of each arc, concatenated. */
export function batchOf(groups: readonly RowGroup[]) {
  const places = new Map<number, RowGroup[]>();
  for (const { rows, at } of groups) {
    const end = arcsEnd(rows, at);
    for (let own = firstArc(at); own < end; own += arcStride) {
      const arc = arcNumber(rows, own);
      const known = places.get(arc);
      if (known === undefined) places.set(arc, [{ rows, at: own }]);
      else known.push({ rows, at: own });
    }
  }
  return { runRows: joined(groups, runColumns.length), arcs: [...places].map(([arc, own]) => ({ arc, rows: joined(own, arcColumns.length) })) };
}

/** `width` columns from each place, concatenated. */
function joined(places: readonly RowGroup[], width: number): Float64Array {
  const numbers = new Float64Array(places.length * width);
  let next = 0;
  for (const { rows, at } of places) {
    for (let k = 0; k < width; k += 1) numbers[next + k] = columnOf(rows, at, k);
    next += width;
  }
  return numbers;
}

import type { Trace } from '../../../shared/api-types/trace.js';
import { alignLines, jointPlaces } from './align-lines.js';
import type { Column } from './align-lines.js';
import { totalLine } from './total-line.js';
import { measures, traceLines } from './trace-lines.js';
import { darkRows } from './value-range.js';

export interface TraceTable {
  readonly places: readonly number[];
  /** Of each measure, in their order. */
  readonly columns: readonly (readonly Column[])[];
  readonly darkRows: ReadonlyMap<number, ReadonlySet<number>>;
}

/** The columns of all traces over joint places. Heat input is given for all arcs together too, as its window is. */
export function traceTable(trace: Trace): TraceTable {
  const lines = measures.map((measure) => traceLines(trace, measure));
  const places = jointPlaces(lines.flat());
  const columns = measures.map((measure, at) => {
    const own = alignLines(lines[at] ?? [], places);
    return measure === 'heatInput' && trace.arcs.length > 1 ? [...own, totalLine(own, places.length)] : own;
  });
  return { places, columns, darkRows: darkRows(columns[measures.indexOf('current')] ?? []) };
}

/** The row whose place is nearest. */
export function nearestRow(places: readonly number[], at: number): number {
  let low = 0;
  let high = places.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((places[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  return Math.abs((places[high] ?? 0) - at) < Math.abs((places[low] ?? 0) - at) ? high : low;
}

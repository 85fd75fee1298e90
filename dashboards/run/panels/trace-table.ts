import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { alignLines, jointPlaces, type Column } from './align-lines.js';
import { totalLine } from './total-line.js';
import { coolingLine, judgedLines, traceLines, type Measure, type TraceLine } from './trace-lines.js';
import { darkRows } from './value-range.js';

export interface TraceTable {
  readonly places: readonly number[];
  /** The columns of each measure, in the order of the measures; the first ones are drawn first. */
  readonly columns: readonly (readonly Column[])[];
  readonly darkRows: ReadonlyMap<number, ReadonlySet<number>>;
}

/**
 * The columns of all traces over common places. Heat input also has a line for all arcs together, as its limits are for all arcs. `other` is a run for
 * comparison: its judged values are shown, or its rows if it was not judged. `cooling` is the run's cooling time, with what it was computed from.
 */
export function traceTable(trace: Trace, measures: readonly Measure[], other: Trace | null, cooling: Run['t85']): TraceTable {
  const lines = measures.map((measure) => ({ raw: measure === 't85' ? coolingLines(trace, cooling) : traceLines(trace, measure), judged: judgedLines(trace, measure), other: other === null ? [] : linesOfOther(other, measure) }));
  const places = jointPlaces(lines.flatMap(({ raw, judged, other: laid }) => [...raw, ...judged, ...laid]));
  const columns = measures.map((measure, at) => {
    const { raw = [], judged = [], other: laid = [] } = lines[at] ?? {};
    const own = alignLines(raw, places);
    const total = measure === 'heatInput' && trace.arcs.length > 1 ? [totalLine(own, places.length)] : [];
    return [...alignLines(laid, places), ...own, ...total, ...alignLines(judged, places)];
  });
  return { places, columns, darkRows: darkRows((columns[measures.indexOf('current')] ?? []).filter(({ kind }) => kind === 'raw')) };
}

/** The cooling time of the rows, by the heat input of all arcs together. */
function coolingLines(trace: Trace, cooling: Run['t85']): TraceLine[] {
  return cooling === null ? [] : totalRows(trace, 'heatInput').map((line) => coolingLine({ ...line, arc: 0, kind: 'raw' }, cooling));
}

function linesOfOther(trace: Trace, measure: Measure): TraceLine[] {
  const judged = judgedLines(trace, measure);
  const own = judged.length > 0 ? judged : totalRows(trace, measure);
  return own.map((line) => ({ ...line, kind: 'other' }));
}

/** The lines of the rows as another run's are compared with them: for heat input of several arcs their total. */
function totalRows(trace: Trace, measure: Measure): TraceLine[] {
  const lines = traceLines(trace, measure);
  if (measure !== 'heatInput' || trace.arcs.length < 2) return lines;
  const places = jointPlaces(lines);
  const { mean } = totalLine(alignLines(lines, places), places.length);
  return [{ arc: 0, kind: 'other', points: places.map((at, row) => ({ at, mean: mean[row] ?? null, low: mean[row] ?? null, high: mean[row] ?? null })) }];
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

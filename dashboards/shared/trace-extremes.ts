import type { Trace } from '../../shared/api-types/trace.js';
import { swings } from '../../shared/weld/rows/alternating.js';

type Columns = Trace['arcs'][number];

/** Below this an arc is out (rules of computation, section 4; the service may be set otherwise), A. */
export const arcOut = 20;

/** Whether one bucket of a trace shows the arc out. */
export function isDark({ currentMin, currentMax }: Columns, index: number): boolean {
  const most = currentMax[index] ?? null;
  return most !== null && Math.max(most, -(currentMin[index] ?? 0)) < arcOut;
}

/**
 * The least and the greatest value of one bucket of a trace, as they can be compared with limits. The extremes of an alternating arc are the crests of its
 * waves: its RMS value, which the trace gives as its mean, stands for them.
 */
export function extremesOf(columns: Columns, measure: 'current' | 'voltage', index: number): readonly [low: number | null, high: number | null] {
  const mean = columns[measure][index] ?? null;
  if (swings(columns.currentMin[index] ?? 0, columns.currentMax[index] ?? 0)) return [mean, mean];
  return [columns[`${measure}Min`][index] ?? mean, columns[`${measure}Max`][index] ?? mean];
}

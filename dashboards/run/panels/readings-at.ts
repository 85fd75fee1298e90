import { valueAt, type Column } from './align-lines.js';
import type { LineKind } from './trace-lines.js';

export interface LineReading {
  readonly arc: number;
  readonly kind: LineKind;
  /** The value at the row; null if there is none, or if no row is given. */
  readonly value: number | null;
  /** Least and greatest value of all rows. */
  readonly min: number | null;
  readonly max: number | null;
}

/**
 * The value of each line at a row, judged lines first. If two passages lie on the place, the later one counts. Rows that lie behind judged values of
 * the same arc are left out: they are drawn, but not listed.
 */
export function readingsAt(columns: readonly Column[], row: number | null): LineReading[] {
  const readings: LineReading[] = [];
  for (const kind of ['judged', 'raw', 'other'] as const) {
    for (const arc of new Set(columns.filter((column) => column.kind === kind).map((column) => column.arc))) {
      if (kind === 'raw' && readings.some((own) => own.arc === arc)) continue;
      const own = columns.filter((column) => column.arc === arc && column.kind === kind);
      const at = row === null ? undefined : own.filter((column) => reaches(column, row)).at(-1);
      const [min, max] = extremes(own);
      readings.push({ arc, kind, value: at === undefined || row === null ? null : valueAt(at, row), min, max });
    }
  }
  return readings;
}

function extremes(columns: readonly Column[]): readonly [number | null, number | null] {
  let [min, max] = [Infinity, -Infinity];
  for (const { low, high } of columns) {
    for (const value of low) if (typeof value === 'number' && value < min) min = value;
    for (const value of high) if (typeof value === 'number' && value > max) max = value;
  }
  return [Number.isFinite(min) ? min : null, Number.isFinite(max) ? max : null];
}

/** Whether the line has points on both sides of the row, or on it. */
function reaches({ mean }: Column, row: number): boolean {
  return mean.findIndex((value) => value !== undefined) <= row && mean.findLastIndex((value) => value !== undefined) >= row;
}

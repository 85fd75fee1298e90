import { recordOf } from './record-of.js';

/** Consecutive rows in columns, for reading many rows and only some of their values. The reader may keep them. */
export interface RowStretch<Name extends string> {
  readonly count: number;
  readonly columns: Readonly<Record<Name, Float64Array>>;
}

/** The rows of a stretch for which `keep`, given their number in it, is true. */
export function pickRows<Name extends string>(stretch: RowStretch<Name>, keep: (row: number) => boolean): RowStretch<Name> {
  const kept: number[] = [];
  for (let row = 0; row < stretch.count; row += 1) if (keep(row)) kept.push(row);
  if (kept.length === stretch.count) return stretch;
  const columns = recordOf(Object.keys(stretch.columns) as Name[], (name) => {
    const column = stretch.columns[name];
    return Float64Array.from(kept, (row) => valueAt(column, row));
  });
  return { count: kept.length, columns };
}

/** A column's value; NaN past its end. */
export function valueAt(column: Float64Array, row: number): number {
  return column[row] ?? Number.NaN;
}

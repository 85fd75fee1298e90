/** Rows that follow one another, in columns: what is read of many rows and only some of their values. It is the reader's to keep. */
export interface RowStretch<Name extends string> {
  readonly count: number;
  readonly columns: Readonly<Record<Name, Float64Array>>;
}

/** Those rows of a stretch that `keep` takes, given their number in it. */
export function pickRows<Name extends string>(stretch: RowStretch<Name>, keep: (row: number) => boolean): RowStretch<Name> {
  const kept: number[] = [];
  for (let row = 0; row < stretch.count; row += 1) if (keep(row)) kept.push(row);
  if (kept.length === stretch.count) return stretch;
  const columns: Partial<Record<Name, Float64Array>> = {};
  for (const name of Object.keys(stretch.columns) as Name[]) {
    const column = stretch.columns[name];
    columns[name] = Float64Array.from(kept, (row) => valueAt(column, row));
  }
  return { count: kept.length, columns: columns as Record<Name, Float64Array> };
}

/** A column's value; NaN behind its end. */
export function valueAt(column: Float64Array, row: number): number {
  return column[row] ?? Number.NaN;
}

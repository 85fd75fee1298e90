import type { quantities } from '../weld/quantities.js';
import { arcColumns, type ArcColumn, type RunColumn } from '../weld/rows/row.js';
import { additions, laterColumns, type LaterColumn } from './later-columns.js';

/** The columns of an arc's row that the first format has. */
export type FirstColumn = Exclude<ArcColumn, LaterColumn> | (typeof quantities.wireFeedSpeed.spread)[number];
const firstWidth = arcColumns.length - laterColumns.length;

/** A format of plain rows (plain-rows.ts). Each addition to the columns comes with one. */
export interface PlainFormat<Name extends string> {
  /** The number of columns that it has, counted from the first. */
  readonly width: number;
  /** The value that a row of an earlier format gives for each column added with this format, as if the quantity had not been sent. */
  readonly before: Readonly<Partial<Record<Name, number>>>;
}

/** The formats from number 1 on; rows are written in the last one. */
export const arcFormats: readonly PlainFormat<ArcColumn>[] = [
  { width: firstWidth, before: {} },
  ...additions.map((added, at) => ({ width: firstWidth + added.length * (at + 1), before: Object.fromEntries(added) })),
];
export const runFormats: readonly PlainFormat<RunColumn>[] = [{ width: 15, before: {} }];

export type Columns<Name extends string> = Readonly<Record<Name, Float64Array>>;
export type ArcColumns = Columns<ArcColumn>;
export type RunColumns = Columns<RunColumn>;

/**
 * A column's value, or NaN past its end. The bounds are checked first, since one read outside an array makes the engine box every number that is read
 * at this place from then on, which is ten times slower.
 */
export function at(column: Float64Array, row: number): number {
  if (row >= column.length) return Number.NaN;
  return column[row] ?? Number.NaN;
}

/** Adds the later columns to the first ones. */
export function withLater(first: Columns<FirstColumn>, columnOf: (name: LaterColumn, before: number) => Float64Array): ArcColumns {
  const whole: Partial<Record<ArcColumn, Float64Array>> = { ...first };
  for (const [name, before] of laterColumns) whole[name] = columnOf(name, before);
  return whole as ArcColumns;
}

import type { Column } from './align-lines.js';
import { arcOut } from '../../shared/trace-extremes.js';

export interface ValueRange {
  readonly range: readonly [number, number];
  /** The greatest value if it lies above the range, and the least one if it lies below. */
  readonly above: number | null;
  readonly below: number | null;
}

interface RangeInput {
  readonly columns: readonly Column[];
  /** Whether an arc's values of a row must be seen; elsewhere (arc start, dark stretches) they may leave the drawing. */
  readonly judged?: (arc: number, row: number) => boolean;
  /** Limits, which are always seen. */
  readonly limits?: readonly number[];
  /** Whether a few values far above the rest may leave the drawing, as energy over almost no length does. */
  readonly robust: boolean;
  /** Whether a few values far from the rest may leave the drawing at either end: along the seam, a place near a stop also holds what the arc did as it started. */
  readonly trimmed?: boolean;
}

/** Share of the values' span left free above and below. */
const margin = 0.08;
/** Least span, as a share of the greatest value: a steady value is not blown up into noise. */
const leastSpan = 0.05;
/** Share of the rows that may leave a trimmed drawing at each end. */
const trim = 0.03;

/** The vertical range of a drawing, and the extremes that it leaves out. Values that are compared with limits are always inside. */
export function valueRange({ columns, judged = () => true, limits = [], robust, trimmed = false }: RangeInput): ValueRange {
  const rows = columns.filter(({ kind }) => kind !== 'judged');
  const all = valuesOf(columns, () => true);
  const inside = valuesOf(rows, judged);
  const held = valuesOf(columns.filter(({ kind }) => kind === 'judged'), () => true);
  const values = inside.length > 0 ? inside : held.length > 0 ? held : all;
  if (values.length === 0) return { range: [0, 1], above: null, below: null };
  const cut = trimmed ? Math.floor(values.length * trim) : 0;
  const greatest = values[values.length - 1 - cut] ?? 0;
  const usual = values[Math.floor((values.length - 1) * 0.98)] ?? greatest;
  const seen = [...limits, ...(held.length > 0 ? [held[0] ?? 0, held.at(-1) ?? 0] : [])];
  const bottom = Math.min(values[cut] ?? 0, ...seen);
  const top = Math.max(robust && greatest > usual * 2 && usual > 0 ? usual * 1.5 : greatest, ...seen);
  const span = Math.max(top - bottom, Math.max(Math.abs(bottom), Math.abs(top)) * leastSpan, 1e-9);
  const middle = (bottom + top) / 2;
  const half = span * (0.5 + margin);
  const low = bottom >= 0 ? Math.max(0, middle - half) : middle - half;
  const [least = 0, most = 0] = [all[0], all.at(-1)];
  return { range: [low, middle + half], above: most > middle + half ? most : null, below: least < low ? least : null };
}

function valuesOf(columns: readonly Column[], counts: (arc: number, row: number) => boolean): Float64Array {
  const values: number[] = [];
  for (const { arc, low, high } of columns) {
    for (const cells of [low, high]) cells.forEach((value, row) => { if (typeof value === 'number' && counts(arc, row)) values.push(value); });
  }
  return Float64Array.from(values).sort();
}

/** For each arc, the rows in which it does not burn, judged by its current. The carriage (0) is never dark. */
export function darkRows(current: readonly Column[]): ReadonlyMap<number, ReadonlySet<number>> {
  const dark = new Map<number, Set<number>>();
  for (const { arc, low, high } of current) {
    const rows = dark.get(arc) ?? new Set<number>();
    dark.set(arc, rows);
    high.forEach((value, row) => { if (typeof value === 'number' && Math.max(value, -(low[row] ?? 0)) < arcOut) rows.add(row); });
  }
  return dark;
}

/** Whether each place and both of its neighbours lie in a judged stretch: a bucket at an end holds values of both sides. */
export function judgedRows(places: readonly number[], judged: readonly (readonly [number, number])[]): boolean[] {
  const within = places.map((at) => judged.some(([from, to]) => at >= from && at <= to));
  return within.map((own, row) => own && within[row - 1] !== false && within[row + 1] !== false);
}

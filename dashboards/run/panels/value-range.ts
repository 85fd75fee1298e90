import type { Column } from './align-lines.js';

export interface ValueRange {
  readonly range: readonly [number, number];
  /** The greatest value, where it lies above the range. */
  readonly beyond: number | null;
}

/** Share of the values' span left free above and below. */
const margin = 0.08;
/** Least span, as a share of the greatest value: a steady value is not blown up into noise. */
const leastSpan = 0.05;

/**
 * The vertical range that shows all values. With `robust`, a few values far above the rest do not squeeze it: energy over a
 * length of nearly nothing is such a value, where a carriage has hardly begun to move.
 */
export function valueRange(columns: readonly Column[], robust: boolean): ValueRange {
  const values: number[] = [];
  for (const { low, high } of columns) {
    for (const cells of [low, high]) for (const value of cells) if (typeof value === 'number') values.push(value);
  }
  if (values.length === 0) return { range: [0, 1], beyond: null };
  values.sort((a, b) => a - b);
  const least = values[0] ?? 0;
  const greatest = values.at(-1) ?? 0;
  const usual = values[Math.floor((values.length - 1) * 0.98)] ?? greatest;
  const top = robust && greatest > usual * 2 && usual > 0 ? usual * 1.5 : greatest;
  const span = Math.max(top - least, Math.max(Math.abs(least), Math.abs(top)) * leastSpan, 1e-9);
  const middle = (least + top) / 2;
  const half = span * (0.5 + margin);
  const bottom = middle - half;
  return { range: [least >= 0 ? Math.max(0, bottom) : bottom, middle + half], beyond: top < greatest ? greatest : null };
}

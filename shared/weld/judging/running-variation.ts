import { judgedIntegral } from './judged-integral.js';
import { arcColumn, columnOf } from '../rows/row.js';
import { standardDeviation } from '../rows/standard-deviation.js';

/** Number of rows over which variation is computed while welding: 10 s; common practice, no source. */
export const variationRows = 100;

/** A row is six numbers in a list: its index, its time on, and the integrals of current, its square, voltage and its square. */
const rowSize = 6;

/** The last 10 s of one arc and their sums. */
export interface RunningVariation {
  readonly arc: number;
  /** The rows count from place `first` on; earlier ones have been subtracted from the sums. */
  rows: number[];
  first: number;
  /** Rows added since the sums were last recomputed. */
  added: number;
  on: number;
  current: number;
  currentSquared: number;
  voltage: number;
  voltageSquared: number;
}

export function startVariation(arc: number): RunningVariation {
  return { arc, rows: [], first: 0, added: 0, on: 0, current: 0, currentSquared: 0, voltage: 0, voltageSquared: 0 };
}

export function cloneVariation(variation: RunningVariation): RunningVariation {
  return { ...variation, rows: variation.rows.slice(variation.first), first: 0 };
}

/** Adds the arc's next row; rows in which it was off do not count. */
export function addVariation(variation: RunningVariation, numbers: Float64Array, at: number): void {
  const on = columnOf(numbers, at, arcColumn.on);
  if (on === 0) return;
  const { rows } = variation;
  const index = columnOf(numbers, at, arcColumn.index);
  rows.push(
    index, on, judgedIntegral(numbers, at, 'current'), columnOf(numbers, at, arcColumn.currentSquared),
    judgedIntegral(numbers, at, 'voltage'), columnOf(numbers, at, arcColumn.voltageSquared),
  );
  add(variation, rows.length - rowSize, 1);
  while ((rows[variation.first] ?? index) <= index - variationRows) {
    add(variation, variation.first, -1);
    variation.first += rowSize;
  }
  variation.added += 1;
  if (variation.added >= variationRows) addAnew(variation);
}

/** Standard deviation over mean; null before the arc burns. */
export function variationOf(variation: RunningVariation, quantity: 'currentVariation' | 'voltageVariation'): number | null {
  const { on } = variation;
  const sum = quantity === 'currentVariation' ? variation.current : variation.voltage;
  const squared = quantity === 'currentVariation' ? variation.currentSquared : variation.voltageSquared;
  if (on === 0 || sum === 0) return null;
  return standardDeviation(on, sum, squared) / Math.abs(sum / on);
}

/** Adds the row at a place of the list to the sums, or subtracts it. */
function add(variation: RunningVariation, at: number, sign: 1 | -1): void {
  const { rows } = variation;
  variation.on += sign * (rows[at + 1] ?? 0);
  variation.current += sign * (rows[at + 2] ?? 0);
  variation.currentSquared += sign * (rows[at + 3] ?? 0);
  variation.voltage += sign * (rows[at + 4] ?? 0);
  variation.voltageSquared += sign * (rows[at + 5] ?? 0);
}

/** Adding and subtracting accumulates rounding errors, so the sums are recomputed from the rows now and then. */
function addAnew(variation: RunningVariation): void {
  const rows = variation.rows.slice(variation.first);
  Object.assign(variation, startVariation(variation.arc), { rows });
  for (let at = 0; at < rows.length; at += rowSize) add(variation, at, 1);
}

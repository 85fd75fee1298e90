import { judgedIntegral } from './judged-integral.js';
import { arcColumn, columnOf } from '../rows/row.js';
import { standardDeviation } from '../rows/standard-deviation.js';

/** Number of rows over which variation is computed while welding: 10 s; common practice, no source. */
export const variationRows = 100;

interface VariedRow {
  readonly index: number;
  readonly on: number;
  readonly current: number;
  readonly currentSquared: number;
  readonly voltage: number;
  readonly voltageSquared: number;
}

/** The last 10 s of one arc and their sums. */
export interface RunningVariation {
  readonly arc: number;
  /** The rows count from `first` on; earlier ones have been subtracted from the sums. */
  rows: VariedRow[];
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
  const own = {
    index: columnOf(numbers, at, arcColumn.index), on,
    current: judgedIntegral(numbers, at, 'current'), currentSquared: columnOf(numbers, at, arcColumn.currentSquared),
    voltage: judgedIntegral(numbers, at, 'voltage'), voltageSquared: columnOf(numbers, at, arcColumn.voltageSquared),
  };
  const { rows } = variation;
  rows.push(own);
  add(variation, own, 1);
  for (let oldest = rows[variation.first]; oldest !== undefined && oldest.index <= own.index - variationRows; oldest = rows[variation.first]) {
    add(variation, oldest, -1);
    variation.first += 1;
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

function add(variation: RunningVariation, row: VariedRow, sign: 1 | -1): void {
  variation.on += sign * row.on;
  variation.current += sign * row.current;
  variation.currentSquared += sign * row.currentSquared;
  variation.voltage += sign * row.voltage;
  variation.voltageSquared += sign * row.voltageSquared;
}

/** Adding and subtracting accumulates rounding errors, so the sums are recomputed from the rows now and then. */
function addAnew(variation: RunningVariation): void {
  const rows = variation.rows.slice(variation.first);
  Object.assign(variation, startVariation(variation.arc), { rows });
  for (const row of rows) add(variation, row, 1);
}

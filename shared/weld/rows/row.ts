import { quantities, spreadNames } from '../quantities.js';
import { recordOf } from './record-of.js';

/** Length of a row in whole microseconds: rows begin at multiples of it in corrected time. */
export const rowLength = 100_000;

/* Rows are columns of numbers, in the order in which they are stored; new columns are only ever appended. `NaN` means "not known". */

/** The carriage in one row: its motion, and the union of its arcs. Stored as the trace of arc 0. */
export const runColumns = [
  // Row number: corrected time in µs divided by `rowLength`.
  'index',
  // Microseconds from the row's start to the first part of the run in it (0 except for a run's first row).
  'from',
  // s with any arc on and covered.
  'on',
  // s in which an arc was in a data gap (merged over the arcs).
  'gap',
  // mm of absolute travel while any arc was on, data gaps left out; and inside data gaps.
  'length', 'gapLength',
  // Run-relative travel in mm (signed) at the row's start (at `from`).
  'travelled',
  // Signed travel in mm over the row, dark stretches included.
  'advance',
  // The speed over the time in which any arc was on and covered: s, mm/min·s, (mm/min)²·s, and extremes; 0 where the speed is not known.
  'speedTime', 'speed', 'speedSquared', 'minSpeed', 'maxSpeed',
  // The speed as shown in a trace (also in the dark), mm/min, or NaN.
  'travelSpeed',
  // Sum of `runRowFlags`.
  'flags',
] as const;
export type RunColumn = (typeof runColumns)[number];

/**
 * Columns of the electric values that were added after the first formats: s with a current above 0; and the voltage as it was sent, in V·s and V²·s with
 * its extremes, where it was corrected for the cable (NaN where it was not).
 */
export const laterElectric = ['positiveTime', 'rawVoltage', 'rawVoltageSquared', 'minRawVoltage', 'maxRawVoltage'] as const;

/**
 * One arc in one row (100 ms). The sums are over arc-on time if the arc was on in the row, else over covered time. The columns of a quantity that is
 * summed (`spread` in the table of quantities) are its mean, the time in which it is known in s, the integral of its square over that time, least and
 * greatest; NaN where that time is 0, except for the sums. Quantities that were added after the first one come last.
 */
export const arcColumns = [
  'index',
  // Microseconds from the row's start to the first arc-on instant (to the first covered one where the arc was off).
  'from',
  // s covered by values; s with the arc on; and s of data gap, in which the arc was on and nothing was sent.
  'covered', 'on', 'gap',
  // Samples that begin in the row (with the arc on, where it was on).
  'samples',
  // Integrals over time: A·s, V·s, J, A²·s, V²·s.
  'current', 'voltage', 'energy', 'currentSquared', 'voltageSquared',
  'minCurrent', 'maxCurrent', 'minVoltage', 'maxVoltage',
  // mm of travel, absolute, while the arc was on and covered; NaN where no travel is known.
  'length',
  // Run-relative travel in mm (signed) at `from`; NaN where no travel is known.
  'travelled',
  ...quantities.wireFeedSpeed.spread,
  // Newest plate temperature, °C, or NaN.
  'plateTemperature',
  // Events that ended in the row; NaN where the data cannot show them.
  'extinctions', 'shortCircuits',
  // Sum of `arcRowFlags`.
  'flags',
  ...laterElectric,
  ...spreadNames.slice(1).flatMap((name) => quantities[name].spread),
] as const;
export type ArcColumn = (typeof arcColumns)[number];

/** Distance of each column from the beginning of its row. */
export const runColumn: Readonly<Record<RunColumn, number>> = recordOf(runColumns, (_name, place) => place);
export const arcColumn: Readonly<Record<ArcColumn, number>> = recordOf(arcColumns, (_name, place) => place);

export const arcRowFlags = {
  /** At least one sample came from a block. */
  block: 1,
  /** At least one sample came from a reading or from a block slower than 1 ms. */
  slow: 2,
  /** The current changed its sign within the row: an alternating arc whose current is sent with its sign. */
  alternating: 4,
  /** The arc was lit (dated back) in this row. */
  lit: 8,
  /** The arc went out (dated back) in this row. */
  out: 16,
  /** The arc burnt in this row, even if only for an instant (a last reading, which has no duration). */
  burning: 32,
} as const;

export const runRowFlags = {
  /** Part of the travel was derived from the last known speed. */
  estimated: 1,
  /** `travel` jumped and continued from its new zero. */
  travelJump: 2,
} as const;

/** A column of the row that begins at `at`. */
export function columnOf(rows: Float64Array, at: number, column: number): number {
  return rows[at + column] ?? Number.NaN;
}

export function hasFlag(rows: Float64Array, at: number, flag: number): boolean {
  return (columnOf(rows, at, arcColumn.flags) & flag) !== 0;
}

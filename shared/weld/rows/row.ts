import { quantities, spreadNames } from '../quantities.js';

/** Length of a row in whole microseconds: rows lie on its multiples of the corrected time. */
export const rowLength = 100_000;

/*
 * Rows are columns of numbers, in the order in which they are stored: append only. `NaN` stands for "not known".
 */

/** What the carriage did in one row: motion, and the union of its arcs. Stored as the trace of arc 0. */
export const runColumns = [
  // Row number: corrected time in µs divided by `rowLength`.
  'index',
  // Microseconds from the row's start to where the run has its first part in it (0 but for a run's first row).
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
  // Weighted by time while any arc was on and covered: s, mm/min·s, (mm/min)²·s; 0 where the speed is not known.
  'speedTime', 'speed', 'speedSquared', 'minSpeed', 'maxSpeed',
  // The speed as shown in a trace (also in the dark), mm/min, or NaN.
  'travelSpeed',
  // Sum of `runRowFlags`.
  'flags',
] as const;
export type RunColumn = (typeof runColumns)[number];

/**
 * What one arc did in one row (100 ms). The sums are over arc-on time where the arc was on in the row, and over covered time where it was
 * off. The columns of a quantity that is summed (`spread` in the table of quantities) are its mean, s in which it is known, its square over
 * them, least and greatest; NaN where those s are 0, but for the sums. Quantities that came after the first one stand last.
 */
export const arcColumns = [
  'index',
  // Microseconds from the row's start to the first arc-on instant (to the first covered one where the arc was off).
  'from',
  // s covered by values; with the arc on; and of data gap: the arc was on and nothing was sent.
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
  ...spreadNames.slice(1).flatMap((name) => quantities[name].spread),
] as const;
export type ArcColumn = (typeof arcColumns)[number];

/** How far behind the beginning of its row each column stands. */
export const runColumn = placesOf(runColumns);
export const arcColumn = placesOf(arcColumns);

function placesOf<Name extends string>(names: readonly Name[]): Readonly<Record<Name, number>> {
  // An object that is built key by key is read ten times slower.
  return Object.fromEntries(names.map((name, place) => [name, place])) as Record<Name, number>;
}

export const arcRowFlags = {
  /** At least one sample came from a block. */
  block: 1,
  /** At least one sample came from a reading or from a block slower than 1 ms. */
  slow: 2,
  /** The current changed its sign within the row: an alternating arc, sent with its sign. */
  alternating: 4,
  /** The arc was lit (dated back) in this row. */
  lit: 8,
  /** The arc went out (dated back) in this row. */
  out: 16,
  /** The arc burnt in this row, even if only for an instant (a last reading, which has no time). */
  burning: 32,
} as const;

export const runRowFlags = {
  /** Part of the travel was taken from the last known speed. */
  estimated: 1,
  /** `travel` jumped and was taken up again from its new zero. */
  travelJump: 2,
} as const;

/** A column of the row that begins at `at`. */
export function columnOf(rows: Float64Array, at: number, column: number): number {
  return rows[at + column] ?? Number.NaN;
}

export function hasFlag(rows: Float64Array, at: number, flag: number): boolean {
  return (columnOf(rows, at, arcColumn.flags) & flag) !== 0;
}

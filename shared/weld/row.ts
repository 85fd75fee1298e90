import type { SpreadColumn } from './quantities.js';

/** Length of a row in whole microseconds: rows lie on its multiples of the corrected time. */
export const rowLength = 100_000;

/**
 * What one arc did in one row (100 ms). The sums are over arc-on time where the arc was on in the row, and over
 * covered time where it was off. `NaN` stands for "not known". The columns of a quantity that is summed (`SpreadColumn`) are its mean,
 * s in which it is known, its square over them, least and greatest; NaN where those s are 0, but for the sums.
 */
export interface ArcRow extends Readonly<Record<SpreadColumn, number>> {
  /** Row number: corrected time in µs divided by `rowLength`. */
  readonly index: number;
  /** Microseconds from the row's start to the first arc-on instant (to the first covered one where the arc was off). */
  readonly from: number;
  /** s covered by values. */
  readonly covered: number;
  /** s covered by values with the arc on. */
  readonly on: number;
  /** s of data gap: the arc was on and nothing was sent. */
  readonly gap: number;
  /** Samples that begin in the row (with the arc on, where it was on). */
  readonly samples: number;
  /** Integrals over time: A·s, V·s, J, A²·s, V²·s. */
  readonly current: number;
  readonly voltage: number;
  readonly energy: number;
  readonly currentSquared: number;
  readonly voltageSquared: number;
  readonly minCurrent: number;
  readonly maxCurrent: number;
  readonly minVoltage: number;
  readonly maxVoltage: number;
  /** mm of travel, absolute, while the arc was on and covered; NaN where no travel is known. */
  readonly length: number;
  /** Run-relative travel in mm (signed) at `from`; NaN where no travel is known. */
  readonly travelled: number;
  /** Newest plate temperature, °C, or NaN. */
  readonly plateTemperature: number;
  /** Events that ended in the row; NaN where the data cannot show them. */
  readonly extinctions: number;
  readonly shortCircuits: number;
  /** Sum of `arcRowFlags`. */
  readonly flags: number;
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

/** What the carriage did in one row: motion, and the union of its arcs. Stored as the trace of arc 0. */
export interface RunRow {
  readonly index: number;
  /** Microseconds from the row's start to where the run has its first part in it (0 but for a run's first row). */
  readonly from: number;
  /** s with any arc on and covered. */
  readonly on: number;
  /** s in which an arc was in a data gap (merged over the arcs). */
  readonly gap: number;
  /** mm of absolute travel while any arc was on, data gaps left out. */
  readonly length: number;
  /** mm of absolute travel inside data gaps. */
  readonly gapLength: number;
  /** Run-relative travel in mm (signed) at the row's start (at `from`). */
  readonly travelled: number;
  /** Signed travel in mm over the row, dark stretches included. */
  readonly advance: number;
  /** Weighted by time while any arc was on and covered: s, mm/min·s, (mm/min)²·s; 0 where the speed is not known. */
  readonly speedTime: number;
  readonly speed: number;
  readonly speedSquared: number;
  readonly minSpeed: number;
  readonly maxSpeed: number;
  /** The speed as shown in a trace (also in the dark), mm/min, or NaN. */
  readonly travelSpeed: number;
  /** Sum of `runRowFlags`. */
  readonly flags: number;
}

export const runRowFlags = {
  /** Part of the travel was taken from the last known speed. */
  estimated: 1,
  /** `travel` jumped and was taken up again from its new zero. */
  travelJump: 2,
} as const;

/** Everything of one row of a run: what the carriage did and, in order of their number, what each arc did. */
export interface RunRowGroup {
  readonly run: RunRow;
  readonly arcs: readonly { readonly arc: number; readonly row: ArcRow }[];
}

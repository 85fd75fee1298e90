import { meanOrRms } from '../rows/alternating.js';
import { quantities, spreadNames, type SpreadName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import type { ArcColumn } from '../rows/row.js';
import { valueAt, type RowStretch } from '../rows/row-stretch.js';

/** The columns that a bucket uses from an arc's row. */
export const bucketColumns = [
  'index', 'covered', 'on', 'current', 'voltage', 'energy', 'currentSquared', 'voltageSquared', 'minCurrent', 'maxCurrent',
  'minVoltage', 'maxVoltage', 'length', 'travelled', 'plateTemperature', 'flags',
  ...spreadNames.flatMap((name) => quantities[name].spread.slice(0, 2)),
] as const satisfies readonly ArcColumn[];
export type ArcStretch = RowStretch<(typeof bucketColumns)[number]>;

/** Sums over the rows of one arc that fall into each bucket of a thinned trace; one number for each bucket. */
export interface TraceBuckets extends Readonly<Record<'time' | 'current' | 'voltage' | `${'min' | 'max'}${'Current' | 'Voltage'}`, Float64Array>> {
  /** 1 where the bucket has a value. */
  readonly filled: Uint8Array;
  /** mm travelled at its start; NaN where not known. */
  readonly travelled: Float64Array;
  /** J and mm with the arc on. */
  readonly energy: Float64Array;
  readonly length: Float64Array;
  /** For each quantity that is summed: the time in which it is known, s, and its sum over that time. */
  readonly spreads: Readonly<Record<SpreadName, { readonly time: Float64Array; readonly sum: Float64Array }>>;
  readonly temperature: Float64Array;
  /** Sum and number of the run's travel speeds. */
  readonly speed: Float64Array;
  readonly speeds: Float64Array;
}

export function emptyBuckets(count: number): TraceBuckets {
  const all = (value: number): Float64Array => new Float64Array(count).fill(value);
  return {
    filled: new Uint8Array(count), travelled: all(Number.NaN), time: all(0), current: all(0), voltage: all(0),
    minCurrent: all(Infinity), maxCurrent: all(-Infinity), minVoltage: all(Infinity), maxVoltage: all(-Infinity),
    energy: all(0), length: all(0), spreads: recordOf(spreadNames, () => ({ time: all(0), sum: all(0) })), temperature: all(Number.NaN), speed: all(0), speeds: all(0),
  };
}

/** The time that a row's sums cover, s: arc-on time, or covered time where the arc was off. */
export function timeOf(on: number, covered: number): number {
  return on > 0 ? on : covered;
}

/** Adds one row of an arc. */
export function addToBucket(b: TraceBuckets, bucket: number, { columns: c }: ArcStretch, row: number): void {
  if (b.filled[bucket] === 0 && Number.isNaN(valueAt(b.travelled, bucket))) b.travelled[bucket] = valueAt(c.travelled, row);
  const on = valueAt(c.on, row);
  const time = timeOf(on, valueAt(c.covered, row));
  const minCurrent = valueAt(c.minCurrent, row);
  // The very last reading holds for no time: where its values are not in the row, there are no data.
  if (time === 0 && !Number.isFinite(minCurrent)) return;
  const flags = valueAt(c.flags, row);
  b.filled[bucket] = 1;
  b.time[bucket] = valueAt(b.time, bucket) + time;
  b.current[bucket] = valueAt(b.current, bucket) + meanOrRms(flags, valueAt(c.current, row), valueAt(c.currentSquared, row), time);
  b.voltage[bucket] = valueAt(b.voltage, bucket) + meanOrRms(flags, valueAt(c.voltage, row), valueAt(c.voltageSquared, row), time);
  b.minCurrent[bucket] = Math.min(valueAt(b.minCurrent, bucket), minCurrent);
  b.maxCurrent[bucket] = Math.max(valueAt(b.maxCurrent, bucket), valueAt(c.maxCurrent, row));
  b.minVoltage[bucket] = Math.min(valueAt(b.minVoltage, bucket), valueAt(c.minVoltage, row));
  b.maxVoltage[bucket] = Math.max(valueAt(b.maxVoltage, bucket), valueAt(c.maxVoltage, row));
  if (on > 0) {
    b.energy[bucket] = valueAt(b.energy, bucket) + valueAt(c.energy, row);
    b.length[bucket] = valueAt(b.length, bucket) + valueAt(c.length, row);
  }
  const temperature = valueAt(c.plateTemperature, row);
  if (!Number.isNaN(temperature)) b.temperature[bucket] = temperature;
}

/** Adds a quantity that is summed: its means, and the time in which it is known, in the rows of the buckets in `placed` (-1: in none). */
export function addToSpread({ time, sum }: TraceBuckets['spreads'][SpreadName], placed: Int32Array, means: Float64Array, known: Float64Array): void {
  for (let row = 0; row < placed.length; row += 1) {
    const bucket = placed[row] ?? -1;
    const mean = means[row] ?? Number.NaN;
    // A row without data adds nothing, since the quantity is known for no time.
    if (bucket < 0 || Number.isNaN(mean)) continue;
    const own = known[row] ?? Number.NaN;
    time[bucket] = (time[bucket] ?? Number.NaN) + own;
    sum[bucket] = (sum[bucket] ?? Number.NaN) + mean * own;
  }
}

import { bucketPlan, type BucketPlan, type IndexRange } from './bucket-plan.js';
import { heatInput } from '../rows/heat-input.js';
import { quantities, spreadNames, type SpreadName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { rowLength, type RunColumn } from '../rows/row.js';
import { pickRows, valueAt, type RowStretch } from '../rows/row-stretch.js';
import { addToBucket, addToSpread, emptyBuckets, type ArcStretch, type TraceBuckets } from './trace-bucket.js';

/** The columns that are used from a run's row. */
export const speedColumns = ['index', 'travelled', 'travelSpeed'] as const satisfies readonly RunColumn[];
export type SpeedStretch = RowStretch<(typeof speedColumns)[number]>;

export type TraceAxis = 'time' | 'travelled' | 'seamPosition';

export interface TraceInput {
  readonly axis: TraceAxis;
  /** The requested part: s from the run's start, mm travelled, or mm from the seam's datum. Open where absent. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  /** Greatest number of buckets for one arc. */
  readonly points: number;
  /** Corrected time of the run's start, µs. */
  readonly start: number;
  readonly startOffset: number;
  readonly direction: 1 | -1;
  /** The mm by which an arc runs behind arc 1; 0 where not named. */
  readonly offsets: Readonly<Record<number, number>>;
  readonly thermalEfficiency: number;
  /** Rows in order, in stretches of any length. */
  readonly arcs: readonly { readonly arc: number; readonly stretches: Iterable<ArcStretch> }[];
  readonly runRows: Iterable<SpeedStretch>;
  /** Least and greatest index of all rows, where known: a long run is then thinned without keeping all its rows in memory. */
  readonly extent?: IndexRange | null | undefined;
}

type Column = (number | null)[];

/** Columns of one arc, in the units of the API; null where there are no data. */
export interface TraceColumns extends Readonly<Record<SpreadName | ShownColumn, Column>> {
  readonly arc: number;
  /** Start of the bucket: s from the run's start, or the arc's place in mm. */
  readonly at: Column;
}
type ShownColumn = 'current' | 'currentMin' | 'currentMax' | 'voltage' | 'voltageMin' | 'voltageMax' | 'travelSpeed' | 'heatInput' | 'plateTemperature';

export interface Trace {
  readonly axis: TraceAxis;
  readonly unit: 's' | 'mm';
  readonly arcs: readonly TraceColumns[];
  /** Number of stored arc rows in the requested part. */
  readonly rows: number;
}

interface ArcPart {
  readonly arc: number;
  readonly plan: BucketPlan;
  readonly buckets: TraceBuckets;
  readonly rows: number;
}

/**
 * Thins a run's rows to at most `points` buckets for each arc. Buckets have equal width in time, whatever the axis, so that a carriage that stops or
 * goes back shows; means are weighted by time, and least and greatest values are kept. If there are no more rows than points, every row is a bucket.
 */
export function thinTrace(input: TraceInput): Trace {
  if (!Number.isInteger(input.points) || input.points < 1) throw new Error(`points must be a whole number from 1, not ${input.points}`);
  const parts = input.axis === 'time' ? byTime(input) : byPlace(input);
  for (const stretch of input.runRows) for (const part of parts) addSpeeds(part, stretch);
  return {
    axis: input.axis, unit: input.axis === 'time' ? 's' : 'mm', arcs: parts.map((part) => columnsOf(part, input)),
    rows: parts.reduce((sum, part) => sum + part.rows, 0),
  };
}

/** All arcs share the same buckets, so that a cursor meets the same instant in each. */
function byTime(input: TraceInput): ArcPart[] {
  const from = input.from === undefined ? -Infinity : Math.floor((input.start + input.from * 1e6) / rowLength);
  // A row belongs to the requested part if it overlaps it.
  const to = input.to === undefined ? Infinity : Math.ceil((input.start + input.to * 1e6) / rowLength) - 1;
  const arcs = input.extent == null ? input.arcs.map(({ arc, stretches }) => ({ arc, stretches: [...stretches] })) : input.arcs;
  const known = input.extent ?? rangeOf(arcs.flatMap(({ stretches }) => ends(stretches)));
  if (known === null) return arcs.map(({ arc }) => thinArc(arc, [], { first: 0, last: -1 }, input.points));
  const range = { first: Math.max(known.first, from), last: Math.min(known.last, to) };
  return arcs.map(({ arc, stretches }) => thinArc(arc, within(stretches, range), range, input.points));
}

function byPlace(input: TraceInput): ArcPart[] {
  return input.arcs.map(({ arc, stretches }) => {
    const asked = input.from !== undefined || input.to !== undefined;
    if (!asked && input.extent != null) return thinArc(arc, stretches, input.extent, input.points);
    const kept: ArcStretch[] = [];
    for (const own of stretches) kept.push(asked ? pickRows(own, (row) => touches(valueAt(own.columns.travelled, row), arc, input)) : own);
    return thinArc(arc, kept, rangeOf(ends(kept)) ?? { first: 0, last: -1 }, input.points);
  });
}

/** The place of `travelled` mm on the requested axis. */
export function placeOf(travelled: number, arc: number, input: Pick<TraceInput, 'axis' | 'startOffset' | 'direction' | 'offsets'>): number {
  if (input.axis === 'travelled') return travelled;
  return input.startOffset + input.direction * (travelled - (input.offsets[arc] ?? 0));
}

/** Whether a row begins between `from` and `to`, in either order (a seam position may count down). */
export function touches(travelled: number, arc: number, input: Pick<TraceInput, 'axis' | 'startOffset' | 'direction' | 'offsets' | 'from' | 'to'>): boolean {
  const place = placeOf(travelled, arc, input);
  const bounds = [input.from ?? -Infinity, input.to ?? Infinity] as const;
  return place >= Math.min(...bounds) && place <= Math.max(...bounds);
}

function* within(stretches: Iterable<ArcStretch>, range: IndexRange): Generator<ArcStretch> {
  for (const own of stretches) {
    const { index } = own.columns;
    // Usually all of them are.
    if (valueAt(index, 0) >= range.first && valueAt(index, own.count - 1) <= range.last) yield own;
    else yield pickRows(own, (row) => valueAt(index, row) >= range.first && valueAt(index, row) <= range.last);
  }
}

function ends(stretches: Iterable<ArcStretch>): number[] {
  const found: number[] = [];
  for (const { count, columns } of stretches) if (count > 0) found.push(valueAt(columns.index, 0), valueAt(columns.index, count - 1));
  return found;
}

function rangeOf(indexes: readonly number[]): IndexRange | null {
  return indexes.length === 0 ? null : { first: Math.min(...indexes), last: Math.max(...indexes) };
}

function thinArc(arc: number, stretches: Iterable<ArcStretch>, range: IndexRange, points: number): ArcPart {
  // Little more than `points` rows are kept: with more rows than that, no row can be its own bucket.
  const held: ArcStretch[] = [];
  let count = 0;
  let part: ArcPart | null = null;
  for (const own of stretches) {
    count += own.count;
    if (part !== null) addArcRows(part, own);
    else if (held.push(own) > 0 && count > points) part = startPart(arc, bucketPlan(range, points, null), held);
  }
  part ??= startPart(arc, bucketPlan(range, points, held.flatMap(({ columns }) => [...columns.index])), held);
  return { ...part, rows: count };
}

function startPart(arc: number, plan: BucketPlan, held: readonly ArcStretch[]): ArcPart {
  const part = { arc, plan, buckets: emptyBuckets(plan.starts.length), rows: 0 };
  for (const own of held) addArcRows(part, own);
  return part;
}

function addArcRows({ plan, buckets }: ArcPart, stretch: ArcStretch): void {
  const { index } = stretch.columns;
  const placed = new Int32Array(stretch.count);
  for (let row = 0; row < stretch.count; row += 1) {
    const bucket = plan.bucketOf(index[row] ?? Number.NaN);
    placed[row] = bucket ?? -1;
    if (bucket !== undefined) addToBucket(buckets, bucket, stretch, row);
  }
  // Quantity by quantity: a loop over them in each row would take longer than all the rest.
  for (const name of spreadNames) {
    const [means, known] = quantities[name].spread;
    addToSpread(buckets.spreads[name], placed, stretch.columns[means], stretch.columns[known]);
  }
}

function addSpeeds({ plan, buckets: b }: ArcPart, { count, columns }: SpeedStretch): void {
  for (let row = 0; row < count; row += 1) {
    const bucket = plan.bucketOf(valueAt(columns.index, row));
    if (bucket === undefined) continue;
    if (b.filled[bucket] === 0 && Number.isNaN(valueAt(b.travelled, bucket))) b.travelled[bucket] = valueAt(columns.travelled, row);
    const speed = valueAt(columns.travelSpeed, row);
    if (Number.isNaN(speed)) continue;
    b.speed[bucket] = valueAt(b.speed, bucket) + speed;
    b.speeds[bucket] = valueAt(b.speeds, bucket) + 1;
  }
}

function columnsOf({ arc, plan, buckets: b }: ArcPart, input: TraceInput): TraceColumns {
  const column = (value: (bucket: number) => number): Column => plan.starts.map((_, bucket) => (b.filled[bucket] === 1 ? finite(value(bucket)) : null));
  const of = (values: Float64Array): Column => column((bucket) => valueAt(values, bucket));
  const ratio = (above: Float64Array, below: Float64Array): Column => column((bucket) => valueAt(above, bucket) / valueAt(below, bucket));
  // A reading that holds for no time has no mean; its least and greatest values are equal.
  const mean = (sum: Float64Array, least: Float64Array, greatest: Float64Array): Column =>
    column((bucket) => {
      const time = valueAt(b.time, bucket);
      return time > 0 ? valueAt(sum, bucket) / time : (valueAt(least, bucket) + valueAt(greatest, bucket)) / 2;
    });
  return {
    arc,
    at: plan.starts.map((first, bucket) =>
      input.axis === 'time' ? Math.max(0, (first * rowLength - input.start) / 1e6) : finite(placeOf(valueAt(b.travelled, bucket), arc, input))),
    current: mean(b.current, b.minCurrent, b.maxCurrent),
    currentMin: of(b.minCurrent),
    currentMax: of(b.maxCurrent),
    voltage: mean(b.voltage, b.minVoltage, b.maxVoltage),
    voltageMin: of(b.minVoltage),
    voltageMax: of(b.maxVoltage),
    travelSpeed: ratio(b.speed, b.speeds),
    ...recordOf(spreadNames, (name) => ratio(b.spreads[name].sum, b.spreads[name].time)),
    heatInput: column((bucket) => {
      const length = valueAt(b.length, bucket);
      return length > 0 ? heatInput([{ energy: valueAt(b.energy, bucket), length }], input.thermalEfficiency) : Number.NaN;
    }),
    plateTemperature: of(b.temperature),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

import { bucketPlan } from './bucket-plan.js';
import type { BucketPlan, IndexRange } from './bucket-plan.js';
import type { ArcRow, RunRow } from './row.js';
import { rowLength } from './row.js';
import { addToBucket, emptyBucket } from './trace-bucket.js';
import type { TraceBucket } from './trace-bucket.js';

export type TraceAxis = 'time' | 'travelled' | 'seamPosition';

export interface TraceInput {
  readonly axis: TraceAxis;
  /** The asked part: s from the run's start, mm travelled, or mm from the seam's datum. Open where absent. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  /** Greatest number of buckets of an arc. */
  readonly points: number;
  /** Corrected time of the run's start, µs. */
  readonly start: number;
  readonly startOffset: number;
  readonly direction: 1 | -1;
  /** mm that an arc runs behind arc 1; 0 where not named. */
  readonly offsets: Readonly<Record<number, number>>;
  readonly thermalEfficiency: number;
  readonly arcs: readonly { readonly arc: number; readonly rows: Iterable<ArcRow> }[];
  readonly runRows: Iterable<RunRow>;
  /** Least and greatest index of all rows, where known: long runs are then thinned without holding all their rows at once. */
  readonly extent?: IndexRange | null | undefined;
}

type Column = (number | null)[];

/** Columns of one arc; null where there is no data. Units of the outside: A, V, mm/min, m/min, kJ/mm, °C. */
export interface TraceColumns {
  readonly arc: number;
  /** Start of the bucket: s from the run's start, or the arc's place in mm. */
  readonly at: Column;
  readonly current: Column;
  readonly currentMin: Column;
  readonly currentMax: Column;
  readonly voltage: Column;
  readonly voltageMin: Column;
  readonly voltageMax: Column;
  readonly travelSpeed: Column;
  readonly wireFeedSpeed: Column;
  readonly heatInput: Column;
  readonly plateTemperature: Column;
}

export interface Trace {
  readonly axis: TraceAxis;
  readonly unit: 's' | 'mm';
  readonly arcs: readonly TraceColumns[];
  /** Number of stored arc rows in the asked part. */
  readonly rows: number;
}

interface ArcPart {
  readonly arc: number;
  readonly plan: BucketPlan;
  readonly buckets: TraceBucket[];
  readonly rows: number;
}

/**
 * Thins a run's rows to at most `points` buckets for each arc. Buckets are equally wide in time, whatever the axis, so a carriage
 * that stands or goes back shows; means are weighted by time, least and greatest values are kept as they are. Where there are no more rows
 * than points every row is a bucket of its own.
 */
export function thinTrace(input: TraceInput): Trace {
  if (!Number.isInteger(input.points) || input.points < 1) throw new Error(`points must be a whole number from 1, not ${input.points}`);
  const parts = input.axis === 'time' ? byTime(input) : byPlace(input);
  for (const row of input.runRows) {
    for (const part of parts) addSpeed(part, row);
  }
  return {
    axis: input.axis,
    unit: input.axis === 'time' ? 's' : 'mm',
    arcs: parts.map((part) => columnsOf(part, input)),
    rows: parts.reduce((sum, part) => sum + part.rows, 0),
  };
}

/** All arcs share their buckets, so that a cursor meets the same instant in each. */
function byTime(input: TraceInput): ArcPart[] {
  const from = input.from === undefined ? -Infinity : Math.floor((input.start + input.from * 1e6) / rowLength);
  // A row belongs to the asked part as far as it reaches into it.
  const to = input.to === undefined ? Infinity : Math.ceil((input.start + input.to * 1e6) / rowLength) - 1;
  const arcs = input.extent == null ? input.arcs.map(({ arc, rows }) => ({ arc, rows: [...rows] })) : input.arcs;
  const known = input.extent ?? rangeOf(arcs.flatMap(({ rows }) => ends(rows)));
  if (known === null) return arcs.map(({ arc }) => thinArc(arc, [], { first: 0, last: -1 }, input.points));
  const range = { first: Math.max(known.first, from), last: Math.min(known.last, to) };
  return arcs.map(({ arc, rows }) => thinArc(arc, within(rows, range), range, input.points));
}

function byPlace(input: TraceInput): ArcPart[] {
  return input.arcs.map(({ arc, rows }) => {
    const asked = input.from !== undefined || input.to !== undefined;
    if (!asked && input.extent != null) return thinArc(arc, rows, input.extent, input.points);
    const kept: ArcRow[] = [];
    for (const row of rows) if (!asked || touches(row, arc, input)) kept.push(row);
    return thinArc(arc, kept, rangeOf(ends(kept)) ?? { first: 0, last: -1 }, input.points);
  });
}

/** Place of `travelled` mm on the asked axis. */
function placeOf(travelled: number, arc: number, input: TraceInput): number {
  if (input.axis === 'travelled') return travelled;
  return input.startOffset + input.direction * (travelled - (input.offsets[arc] ?? 0));
}

/** Whether the row begins between `from` and `to`, in whatever order they are given (a seam position may count down). */
function touches(row: ArcRow, arc: number, input: TraceInput): boolean {
  const place = placeOf(row.travelled, arc, input);
  const bounds = [input.from ?? -Infinity, input.to ?? Infinity] as const;
  return place >= Math.min(...bounds) && place <= Math.max(...bounds);
}

function* within(rows: Iterable<ArcRow>, range: IndexRange): Generator<ArcRow> {
  for (const row of rows) if (row.index >= range.first && row.index <= range.last) yield row;
}

function ends(rows: Iterable<ArcRow>): number[] {
  let first: number | null = null;
  let last: number | null = null;
  for (const { index } of rows) {
    first ??= index;
    last = index;
  }
  return first === null || last === null ? [] : [first, last];
}

function rangeOf(indexes: readonly number[]): IndexRange | null {
  return indexes.length === 0 ? null : { first: Math.min(...indexes), last: Math.max(...indexes) };
}

function thinArc(arc: number, rows: Iterable<ArcRow>, range: IndexRange, points: number): ArcPart {
  // No more than `points` rows are held: only up to there each can be a bucket of its own.
  const held: ArcRow[] = [];
  let count = 0;
  let part: ArcPart | null = null;
  for (const row of rows) {
    count += 1;
    if (part !== null) addArcRow(part, row);
    else if (held.push(row) > points) part = startPart(arc, bucketPlan(range, points, null), held);
  }
  part ??= startPart(arc, bucketPlan(range, points, held.map((row) => row.index)), held);
  return { ...part, rows: count };
}

function startPart(arc: number, plan: BucketPlan, held: readonly ArcRow[]): ArcPart {
  const part = { arc, plan, buckets: plan.starts.map(() => emptyBucket()), rows: 0 };
  for (const row of held) addArcRow(part, row);
  return part;
}

function addArcRow({ plan, buckets }: ArcPart, row: ArcRow): void {
  const bucket = buckets[plan.bucketOf(row.index) ?? -1];
  if (bucket !== undefined) addToBucket(bucket, row);
}

function addSpeed({ plan, buckets }: ArcPart, row: RunRow): void {
  const bucket = buckets[plan.bucketOf(row.index) ?? -1];
  if (bucket === undefined) return;
  if (!bucket.filled && Number.isNaN(bucket.travelled)) bucket.travelled = row.travelled;
  if (Number.isNaN(row.travelSpeed)) return;
  bucket.speed += row.travelSpeed;
  bucket.speeds += 1;
}

function columnsOf({ arc, plan, buckets }: ArcPart, input: TraceInput): TraceColumns {
  const column = (value: (bucket: TraceBucket) => number): Column => buckets.map((bucket) => (bucket.filled ? finite(value(bucket)) : null));
  // A reading that stands for no time has no mean; its least and greatest values are one and the same.
  const mean = (sum: number, time: number, least: number, greatest: number): number => (time > 0 ? sum / time : (least + greatest) / 2);
  return {
    arc,
    at: buckets.map((bucket, number) =>
      input.axis === 'time'
        ? Math.max(0, ((plan.starts[number] ?? 0) * rowLength - input.start) / 1e6)
        : finite(placeOf(bucket.travelled, arc, input))),
    current: column((b) => mean(b.current, b.time, b.minCurrent, b.maxCurrent)),
    currentMin: column((b) => b.minCurrent),
    currentMax: column((b) => b.maxCurrent),
    voltage: column((b) => mean(b.voltage, b.time, b.minVoltage, b.maxVoltage)),
    voltageMin: column((b) => b.minVoltage),
    voltageMax: column((b) => b.maxVoltage),
    travelSpeed: column((b) => b.speed / b.speeds),
    wireFeedSpeed: column((b) => b.feed / b.feedTime),
    heatInput: column((b) => (b.length > 0 ? (b.energy / b.length / 1000) * input.thermalEfficiency : Number.NaN)),
    plateTemperature: column((b) => b.temperature),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

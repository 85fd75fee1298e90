import { bucketPlan } from './bucket-plan.js';
import type { JudgedSeries } from './judged-series.js';
import { rowLength } from '../rows/row.js';
import { placeOf, touches, type TraceInput } from './thin-trace.js';

type Column = (number | null)[];

/** The judged values of one quantity in columns, thinned to buckets: mean, least and greatest of each; null where nothing was judged. */
export interface JudgedColumns extends Pick<JudgedSeries, 'arc' | 'quantity'> {
  /** Start of the bucket: s from the run's start, or the place of its first judged row in mm. */
  readonly at: Column;
  readonly value: Column;
  readonly min: Column;
  readonly max: Column;
}

type Thinning = Pick<TraceInput, 'axis' | 'from' | 'to' | 'points' | 'start' | 'startOffset' | 'direction' | 'offsets'>;

/** The requested part of the judged values, with at most `points` buckets for each quantity; places of the run are those of arc 1. */
export function judgedTrace(series: readonly JudgedSeries[], input: Thinning): JudgedColumns[] {
  return series.map((own) => thinned(own, input));
}

function thinned({ arc, quantity, times, travelled, values }: JudgedSeries, input: Thinning): JudgedColumns {
  const indexes: number[] = [];
  const kept: number[] = [];
  const isAsked = askedBy(input, arc ?? 1);
  for (let at = 0; at < times.length; at += 1) {
    const index = Math.floor((times[at] ?? 0) / rowLength);
    if (!isAsked(index, travelled[at] ?? 0)) continue;
    indexes.push(index);
    kept.push(at);
  }
  const plan = bucketPlan({ first: indexes[0] ?? 0, last: indexes.at(-1) ?? -1 }, input.points, indexes.length > input.points ? null : indexes);
  const buckets = plan.starts.map(() => ({ count: 0, sum: 0, min: Infinity, max: -Infinity, place: 0 }));
  for (let order = 0; order < kept.length; order += 1) {
    const bucket = buckets[plan.bucketOf(indexes[order] ?? 0) ?? -1];
    if (bucket === undefined) continue;
    const at = kept[order] ?? 0;
    const value = values[at] ?? 0;
    if (bucket.count === 0) bucket.place = placeOf(travelled[at] ?? 0, arc ?? 1, input);
    bucket.count += 1;
    bucket.sum += value;
    if (value < bucket.min) bucket.min = value;
    if (value > bucket.max) bucket.max = value;
  }
  const column = (of: (bucket: (typeof buckets)[number]) => number): Column => buckets.map((bucket) => (bucket.count === 0 ? null : of(bucket)));
  return {
    arc, quantity,
    at: input.axis === 'time' ? plan.starts.map((first) => Math.max(0, (first * rowLength - input.start) / 1e6)) : column(({ place }) => place),
    // The mean of one value is that value, to the last bit.
    value: column(({ sum, count }) => sum / count),
    min: column(({ min }) => min),
    max: column(({ max }) => max),
  };
}

/** Whether a row belongs to the requested part: on the time axis, any row that overlaps it. */
function askedBy(input: Thinning, arc: number): (index: number, travelled: number) => boolean {
  if (input.axis !== 'time') return (_, travelled) => touches(travelled, arc, input);
  const first = input.from === undefined ? -Infinity : Math.floor((input.start + input.from * 1e6) / rowLength);
  const last = input.to === undefined ? Infinity : Math.ceil((input.start + input.to * 1e6) / rowLength) - 1;
  return (index) => index >= first && index <= last;
}

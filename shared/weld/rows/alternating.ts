import { arcRowFlags } from './row.js';

/** Current that passes this value on both sides of zero alternates, A; less is sensor noise. Common practice, no source. */
const alternatingFrom = 20;

/** Whether current between these extremes, A, alternates, in a row or in a block. */
export function swings(min: number, max: number): boolean {
  return min < -alternatingFrom && max > alternatingFrom;
}

/** Whether the arc alternated in a row with these flags. */
export function alternatesIn(flags: number): boolean {
  return (flags & arcRowFlags.alternating) !== 0;
}

/** A rounding error in the sum of rows, s. */
const sameTime = 1e-9;

/** Whether an arc alternated for at least half of its time in a run, both in s. */
export function alternates({ alternating, on }: { readonly alternating: number; readonly on: number }): boolean {
  return on > 0 && alternating >= on / 2 - sameTime;
}

/** ∫ over `time`, s, of the judged and shown value of a row's current or voltage: the RMS of the row for an alternating arc, else its mean. */
export function meanOrRms(flags: number, integral: number, squared: number, time: number): number {
  return alternatesIn(flags) ? Math.sqrt(squared * time) : integral;
}

import { arcRowFlags } from './row.js';

/** Current that swings past this on both sides of zero alternates, A; less is a sensor's noise. Common practice, no source. */
const alternatingFrom = 20;

/** Whether current between these extremes, A, alternates: of a row, or of a block. */
export function swings(min: number, max: number): boolean {
  return min <= -alternatingFrom && max >= alternatingFrom;
}

/** Whether the arc alternated in a row with these flags. */
export function alternatesIn(flags: number): boolean {
  return (flags & arcRowFlags.alternating) !== 0;
}

/** Whether an arc alternated over most of its time in a run, both in s. */
export function alternates({ alternating, on }: { readonly alternating: number; readonly on: number }): boolean {
  return alternating > on / 2;
}

/** ∫ over `time`, s, of what is judged and shown of a row's current or voltage: of an alternating arc the RMS of the row, of any other its mean. */
export function meanOrRms(flags: number, integral: number, squared: number, time: number): number {
  return alternatesIn(flags) ? Math.sqrt(squared * time) : integral;
}

/** How much of the past is shown, ms, and in how many steps: each keeps its least and its greatest value, so that no peak is lost. */
export const trendSpan = 300_000;
export const trendSteps = 150;
const step = trendSpan / trendSteps;

/** The newest minutes of one value, in a fixed amount of memory. */
export interface Trend {
  /** Number of the newest step, counted from 1970; a step's index in the array is its number modulo `trendSteps`. */
  newest: number;
  /** NaN where nothing was measured. */
  readonly least: Float64Array;
  readonly greatest: Float64Array;
}

/** A step with values: `at` from 0 (the oldest) to `trendSteps` − 1 (now). */
export interface TrendStep { readonly at: number; readonly least: number; readonly greatest: number }

export function newTrend(): Trend {
  return { newest: Number.NEGATIVE_INFINITY, least: new Float64Array(trendSteps).fill(Number.NaN), greatest: new Float64Array(trendSteps).fill(Number.NaN) };
}

/** Takes what was measured at a time, ms since 1970; what is older than the span is left out. */
export function addToTrend(trend: Trend, time: number, least: number, greatest: number): void {
  const number = Math.floor(time / step);
  if (number <= trend.newest - trendSteps) return;
  for (let fresh = Math.max(trend.newest + 1, number - trendSteps + 1); fresh <= number; fresh += 1) {
    trend.least[fresh % trendSteps] = Number.NaN;
    trend.greatest[fresh % trendSteps] = Number.NaN;
  }
  trend.newest = Math.max(trend.newest, number);
  const at = number % trendSteps;
  const held = trend.least[at] ?? Number.NaN;
  trend.least[at] = Number.isNaN(held) ? least : Math.min(held, least);
  trend.greatest[at] = Math.max(Number.isNaN(held) ? greatest : (trend.greatest[at] ?? greatest), greatest);
}

/** The steps that have values, split where nothing was measured, as seen at a time: silence moves them out on the left. */
export function trendStretches(trend: Trend, now: number): readonly (readonly TrendStep[])[] {
  const last = Math.floor(now / step);
  const stretches: TrendStep[][] = [];
  let open: TrendStep[] | null = null;
  for (let number = Math.max(last - trendSteps + 1, trend.newest - trendSteps + 1); number <= Math.min(last, trend.newest); number += 1) {
    const least = trend.least[number % trendSteps] ?? Number.NaN;
    if (Number.isNaN(least)) {
      open = null;
      continue;
    }
    if (open === null) stretches.push((open = []));
    open.push({ at: number - last + trendSteps - 1, least, greatest: trend.greatest[number % trendSteps] ?? least });
  }
  return stretches;
}

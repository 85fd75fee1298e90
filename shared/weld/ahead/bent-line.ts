import type { SecondMean } from './drift-track.js';

/** A line that is level up to `since` (s) and then drifts by `slope` per s; `level` is its height at the last value. */
export interface BentLine {
  readonly since: number;
  readonly slope: number;
  readonly level: number;
  /** Σ of the squared distances of the regressor from its mean: the slope's standard error is that of the values over its root. */
  readonly squares: number;
  /** Mean distance of the newest values from the line. */
  readonly newest: number;
}

/** The number of values at the end whose mean distance shows whether the drift continues. */
export const newestValues = 8;
/** Distances count up to this many robust deviations (P. J. Huber's ψ); common practice, no source. */
const clippedAt = 2.5;

interface Bend {
  readonly onset: number;
  readonly gain: number;
  readonly slope: number;
  readonly regressorMean: number;
  readonly squares: number;
}

/**
 * The best fit of a level followed by a drift, by least squares, then once more with the distances of outliers clipped. Null where no drift of
 * `fewestSeconds` fits, and where a step fits better: then somebody changed a setting.
 */
export function bentLine(values: readonly SecondMean[], fewestSeconds: number): BentLine | null {
  const count = values.length;
  const last = values[count - 1];
  if (last === undefined) return null;
  let total = 0;
  for (const { value } of values) total += value;
  let best: Bend | null = null;
  let step = 0;
  let behind = 0;
  let sum = 0;
  let regressors = 0;
  let regressorSquares = 0;
  let products = 0;
  // Go from the newest value back: moving the onset one value earlier adds the time between them to every regressor after it.
  for (let onset = count - 2; onset >= 0; onset -= 1) {
    const next = values[onset + 1];
    const own = values[onset];
    if (next === undefined || own === undefined) break;
    behind += 1;
    sum += next.value;
    const between = next.at - own.at;
    regressorSquares += between * (2 * regressors + behind * between);
    regressors += behind * between;
    products += between * sum;
    if (behind >= 2) step = Math.max(step, (sum - (behind * total) / count) ** 2 / (behind * (1 - behind / count)));
    if (last.at - own.at < fewestSeconds) continue;
    const squares = regressorSquares - regressors ** 2 / count;
    const slope = (products - (regressors * total) / count) / squares;
    const gain = slope * slope * squares;
    if (best === null || gain > best.gain) best = { onset, gain, slope, regressorMean: regressors / count, squares };
  }
  return best === null || best.gain <= step ? null : clippedLine(values, best, total / count, last.at);
}

/** One step of an M-estimator from the least-squares fit. */
function clippedLine(values: readonly SecondMean[], { onset, slope, regressorMean, squares }: Bend, mean: number, end: number): BentLine {
  const count = values.length;
  const since = values[onset]?.at ?? end;
  const distances = new Float64Array(count);
  const sizes = new Float64Array(count);
  values.forEach(({ at, value }, n) => {
    const distance = value - mean - slope * (Math.max(0, at - since) - regressorMean);
    distances[n] = distance;
    sizes[n] = Math.abs(distance);
  });
  sizes.sort();
  // The median distance is 1/1.4826 of the standard deviation of a normal distribution.
  const most = clippedAt * 1.4826 * (sizes[count >> 1] ?? 0);
  let offset = 0;
  let tilt = 0;
  let newest = 0;
  values.forEach(({ at }, n) => {
    const clipped = Math.max(-most, Math.min(most, distances[n] ?? 0));
    offset += clipped / count;
    tilt += (clipped * (Math.max(0, at - since) - regressorMean)) / squares;
    if (n >= count - newestValues) newest += clipped / Math.min(newestValues, count);
  });
  const level = mean + offset + (slope + tilt) * (end - since - regressorMean);
  return { since, slope: slope + tilt, level, squares, newest };
}

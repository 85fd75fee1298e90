import { addToCusum, startCusum, type Cusum } from './cusum.js';
import { noiseOf, noteBends, startNoise, type Noise } from './noise.js';

/** A mean over one second, dated at its middle, s. */
export interface SecondMean {
  readonly at: number;
  readonly value: number;
}

/** These are tuned on simulated drifts (tests/bench/README.md), no source: λ of the EWMA; slack, decision and cap of the CUSUM in deviations. */
const settings = { weight: 0.1, slack: 0.25, decision: 4, most: 12 } as const;
/** The number of means that are kept, and the number needed before anything is tested. */
const mostMeans = 60;
const fewestMeans = 12;

/** One quantity, tracked second by second from one arc start to the next. Plain data of bounded size: a copy is a checkpoint. */
export interface DriftTrack {
  /** The current second: ∫ of the value and of its weight. */
  second: number | null;
  sum: number;
  weight: number;
  means: SecondMean[];
  /** EWMA of the means. */
  level: number;
  noise: Noise;
  cusum: Cusum;
}

export function startDriftTrack(): DriftTrack {
  return { second: null, sum: 0, weight: 0, means: [], level: Number.NaN, noise: startNoise(), cusum: startCusum() };
}

/** Adds a row's value to the whole `second` that contains it, in order of time; `sum` is the value times its weight. */
export function addToDrift(track: DriftTrack, second: number, sum: number, weight: number): void {
  if (track.second !== second) {
    if (track.second !== null) closeSecond(track, track.second);
    track.second = second;
  }
  track.sum += sum;
  track.weight += weight;
}

function closeSecond(track: DriftTrack, second: number): void {
  const { sum, weight, means } = track;
  track.sum = 0;
  track.weight = 0;
  if (!(weight > 0)) return;
  const value = sum / weight;
  means.push({ at: second + 0.5, value });
  if (means.length > mostMeans) means.shift();
  noteBends(track.noise, means);
  if (means.length > fewestMeans) {
    // Under a drift the newest value is ahead of its average by slope/λ, and the CUSUM of that distance grows for as long as the drift lasts.
    addToCusum(track.cusum, (value - track.level) / noiseOf(track.noise, track.level).longRun, 0, settings.slack, settings.most);
  }
  track.level = Number.isNaN(track.level) ? value : nextEwma(track.level, value, Math.max(settings.weight, 1 / means.length));
}

/** The direction in which the values drift: 1 up, -1 down, 0 where noise explains them. */
export function driftDirection({ cusum }: DriftTrack): 1 | 0 | -1 {
  const rising = cusum.upper >= settings.decision;
  const falling = cusum.lower >= settings.decision;
  return rising === falling ? 0 : rising ? 1 : -1;
}

/**
 * The next value of an exponentially weighted moving average, z = λ·x + (1 − λ)·(the z before), with λ = `weight`, above 0 and up to 1. Source:
 * NIST/SEMATECH e-Handbook 6.3.2.4.
 */
export function nextEwma(before: number, value: number, weight: number): number {
  return before + weight * (value - before);
}

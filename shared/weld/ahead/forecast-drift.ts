import { crossedLimit, type Window } from '../procedure/run-windows.js';
import { bentLine, newestValues } from './bent-line.js';
import { driftDirection, type DriftTrack } from './drift-track.js';
import { noiseOf } from './noise.js';

export interface DriftForecast {
  /** The end of the window that will be passed. */
  readonly limit: number;
  /** Time from now, s. */
  readonly leavesIn: number;
  /** The present value of the quantity, without its noise. */
  readonly level: number;
}

/** All of these are tuned on simulated drifts (tests/bench/README.md); no source. */
const settings = {
  /** Shortest time that a drift must have lasted, s. */
  fewestSeconds: 15,
  /** Standard errors by which the slope must differ from 0: its share of the forecast's error is then at most a sixth. */
  certainty: 6,
  /** Standard errors by which the newest values may lag behind the line before the drift counts as over. */
  behind: 1.5,
  /** Nothing is forecast further ahead than this, s, nor further than this multiple of the time that the drift has lasted. */
  furthest: 60,
  perEvidence: 1.25,
  /** The quantity counts as outside once noise has left it inside with only this probability. */
  stillInside: 0.2,
} as const;

/**
 * When a quantity leaves its window, counted from `now` (s). Null where no drift is established, where it reaches no limit within the longest
 * forecast, and where the quantity is outside already.
 */
export function forecastDrift(track: DriftTrack, window: Window, now: number): DriftForecast | null {
  const direction = driftDirection(track);
  const limit = direction > 0 ? window.max : window.min;
  const newest = track.means.at(-1);
  if (direction === 0 || limit === undefined || newest === undefined || crossedLimit(window, newest.value) !== null) return null;
  const line = bentLine(track.means, settings.fewestSeconds);
  if (line === null) return null;
  const { deviation, longRun } = noiseOf(track.noise, track.level);
  if (line.slope * direction < (settings.certainty * longRun) / Math.sqrt(line.squares)) return null;
  if (line.newest * direction < (-settings.behind * longRun) / Math.sqrt(newestValues)) return null;
  const level = line.level + line.slope * (now - newest.at);
  if (crossedLimit(window, level) !== null) return null;
  const leavesIn = firstOutside(Math.abs(limit - level) / deviation, Math.abs(line.slope) / deviation);
  const evidence = newest.at - line.since;
  return leavesIn > Math.min(settings.furthest, settings.perEvidence * evidence) ? null : { limit, leavesIn, level };
}

/**
 * Seconds until a one-second mean has probably been outside: near a limit noise takes a mean outside before the line gets there. `distance` to the
 * limit and `pace` towards it per s are in deviations of the means.
 */
function firstOutside(distance: number, pace: number): number {
  const straight = distance / pace;
  let inside = 1;
  for (let time = Math.max(0, Math.floor(straight - 4 / pace)); time < straight && time < settings.furthest; time += 1) {
    const after = inside * (1 - upperTail(distance - pace * (time + 0.5)));
    if (after <= settings.stillInside) return Math.min(straight, time + (inside - settings.stillInside) / (inside - after));
    inside = after;
  }
  return straight;
}

/** Share of a normal distribution above so many deviations, to 1.4e-4 (S. R. Bowling et al., J. Industrial Engineering and Management 2(1), 2009). */
function upperTail(deviations: number): number {
  return 1 / (1 + Math.exp(0.07056 * deviations ** 3 + 1.5976 * deviations));
}

import type { RunWindows, Window } from './run-windows.js';
import { crossedLimit, deadbandOf } from './run-windows.js';

/** A moment of a run: µs of corrected time, and mm travelled. */
export interface Moment {
  readonly time: number;
  readonly travelled: number;
}

/** One stretch of a run outside one window. `to` is null while it lasts. */
export interface Excursion {
  /** Null where the quantity is the carriage's. */
  readonly arc: number | null;
  readonly quantity: string;
  /** The limit that was crossed. */
  readonly limit: number;
  readonly worst: number;
  readonly from: Moment;
  readonly to: Moment | null;
}

/** One quantity against its window, judged value by judged value. */
export interface ExcursionTrack {
  readonly arc: number | null;
  readonly quantity: string;
  readonly window: Window;
  /** Outside, but not yet for long enough. */
  candidate: Excursion | null;
  open: Excursion | null;
  /** Inside the deadband, but not yet for long enough. */
  insideSince: Moment | null;
  /** Where the newest judged value ends. */
  last: Moment | null;
}

export function startTrack(arc: number | null, quantity: string, window: Window): ExcursionTrack {
  return { arc, quantity, window, candidate: null, open: null, insideSince: null, last: null };
}

/** Takes the next judged value, which stands from `from` to `to`. Returns the excursion that it ends, if any. */
export function trackValue(track: ExcursionTrack, value: number, from: Moment, to: Moment, windows: RunWindows): Excursion | null {
  track.last = to;
  const limit = crossedLimit(track.window, value);
  if (track.open === null) {
    if (limit === null) {
      track.candidate = null;
      return null;
    }
    track.candidate =
      track.candidate === null
        ? { arc: track.arc, quantity: track.quantity, limit, worst: value, from, to: null }
        : worsened(track.candidate, value);
    if (to.time - track.candidate.from.time >= windows.onDelay) {
      track.open = track.candidate;
      track.candidate = null;
      track.insideSince = null;
    }
    return null;
  }
  if (!insideDeadband(track.window, value, windows.deadband)) {
    track.insideSince = null;
    track.open = worsened(track.open, value);
    return null;
  }
  track.insideSince ??= from;
  if (to.time - track.insideSince.time < windows.offDelay) return null;
  return close(track, track.insideSince);
}

/** The arc has no further judged values: an open excursion ends with the last one. */
export function endTrack(track: ExcursionTrack): Excursion | null {
  track.candidate = null;
  const ended = track.open === null || track.last === null ? null : close(track, track.last);
  track.insideSince = null;
  return ended;
}

function close(track: ExcursionTrack, to: Moment): Excursion | null {
  const { open } = track;
  track.open = null;
  track.insideSince = null;
  return open === null ? null : { ...open, to };
}

function worsened(excursion: Excursion, value: number): Excursion {
  return Math.abs(value - excursion.limit) > Math.abs(excursion.worst - excursion.limit) && crossedFurther(excursion, value)
    ? { ...excursion, worst: value }
    : excursion;
}

/** On the same side of the limit as the worst value so far. */
function crossedFurther(excursion: Excursion, value: number): boolean {
  return Math.sign(value - excursion.limit) === Math.sign(excursion.worst - excursion.limit);
}

function insideDeadband(window: Window, value: number, share: number): boolean {
  const band = deadbandOf(window, share);
  return (window.max === undefined || value <= window.max - band) && (window.min === undefined || value >= window.min + band);
}

import type { RunWindows } from '../procedure/run-windows.js';

export type Delays = Pick<RunWindows, 'onDelay' | 'offDelay'>;

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

/** An excursion whose on-delay is over. */
export interface TrackedExcursion extends Excursion {
  /** The end of the row with which the on-delay was over. */
  readonly established: Moment;
  /** Where the value had come back inside, if its arc went out before the off-delay was over. */
  readonly insideFrom?: Moment;
}

/** The identity of an excursion: its quantity, arc, limit and beginning. However it continues, it stays the same one. */
export function excursionKey({ quantity, arc, limit, from }: Pick<Excursion, 'quantity' | 'arc' | 'limit' | 'from'>): string {
  return `${quantity} ${String(arc)} ${limit} ${from.time}`;
}

/** One quantity against one limit of its window, judged value by value. */
export interface ExcursionTrack {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  /** 1 for an upper limit, -1 for a lower one. */
  readonly side: 1 | -1;
  readonly deadband: number;
  /** An excursion that has not lasted for its on-delay yet. */
  candidate: Excursion | null;
  open: TrackedExcursion | null;
  /** Where the value came inside the deadband, while the off-delay is not over yet. */
  insideSince: Moment | null;
  /** Where the newest judged value ends. */
  last: Moment | null;
}

export function startTrack(arc: number | null, quantity: string, limit: number, side: 1 | -1, deadband: number): ExcursionTrack {
  return { arc, quantity, limit, side, deadband, candidate: null, open: null, insideSince: null, last: null };
}

/** Adds the next judged value, which holds from `from` to `to`. Returns the excursion that it ends, if any. */
export function trackValue(track: ExcursionTrack, value: number, from: Moment, to: Moment, delays: Delays): TrackedExcursion | null {
  track.last = to;
  // How far the value lies outside; negative inside.
  const beyond = (value - track.limit) * track.side;
  if (track.open === null) {
    if (beyond <= 0) {
      track.candidate = null;
      return null;
    }
    track.candidate =
      track.candidate === null
        ? { arc: track.arc, quantity: track.quantity, limit: track.limit, worst: value, from, to: null }
        : worsened(track.candidate, value, track.side);
    if (to.time - track.candidate.from.time >= delays.onDelay) {
      track.open = { ...track.candidate, established: to };
      track.candidate = null;
      track.insideSince = null;
    }
    return null;
  }
  if (beyond > -track.deadband) {
    track.insideSince = null;
    track.open = worsened(track.open, value, track.side);
    return null;
  }
  track.insideSince ??= from;
  if (to.time - track.insideSince.time < delays.offDelay) return null;
  return close(track, track.insideSince);
}

/** The arc has no further judged values: an open excursion ends with the last one. */
export function endTrack(track: ExcursionTrack): TrackedExcursion | null {
  track.candidate = null;
  const insideFrom = track.insideSince;
  const ended = track.open === null || track.last === null ? null : close(track, track.last);
  track.insideSince = null;
  return ended === null || insideFrom === null ? ended : { ...ended, insideFrom };
}

function close(track: ExcursionTrack, to: Moment): TrackedExcursion | null {
  const { open } = track;
  track.open = null;
  track.insideSince = null;
  return open === null ? null : { ...open, to };
}

function worsened<Found extends Excursion>(excursion: Found, value: number, side: 1 | -1): Found {
  return (value - excursion.worst) * side > 0 ? { ...excursion, worst: value } : excursion;
}

import { endTrack, startTrack, trackValue, type Delays, type TrackedExcursion, type ExcursionTrack, type Moment } from './excursion-track.js';
import type { JudgedWindow } from '../procedure/judged-window.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import { allOut, wentOut } from '../rows/zone-spans.js';

/** One judged quantity, and the positions of its window's ends among the tracks of the judge. */
export interface Ends<Quantity extends string = JudgedWindow['quantity']> extends JudgedWindow<Quantity> {
  readonly delays: Delays;
  readonly tracks: readonly number[];
}

/** Quantities against their limits, and the excursions that were found. */
export interface LimitTracks<Quantity extends string = JudgedWindow['quantity']> {
  readonly ends: readonly Ends<Quantity>[];
  tracks: ExcursionTrack[];
  /** The excursions that are over, in the order in which they ended. */
  excursions: TrackedExcursion[];
  /** Increases whenever an excursion is established, ends or is taken back. */
  revision: number;
}

/** Adds tracks for the ends of a window to `tracks`. */
export function startEnds<Quantity extends string>(tracks: ExcursionTrack[], own: JudgedWindow<Quantity>, deadband: number, { onDelay, offDelay }: Delays): Ends<Quantity> {
  const { arc, quantity, window } = own;
  const places = ([[window.max, 1], [window.min, -1]] as const).flatMap(([limit, side]) => (limit === undefined ? [] : [tracks.push(startTrack(arc, quantity, limit, side, deadband)) - 1]));
  return { ...own, delays: { onDelay, offDelay }, tracks: places };
}

export function cloneLimitTracks<Tracks extends LimitTracks<string>>(own: Tracks): Tracks {
  return { ...own, tracks: own.tracks.map((track) => ({ ...track })), excursions: own.excursions.slice() };
}

export type Verdict = 'inside' | 'outside' | 'missing';

/** Compares a value, which holds from `from` to `to`, with both ends of its window. */
export function followValue<Quantity extends string>(judge: LimitTracks<Quantity>, own: Ends<Quantity>, value: number, from: Moment, to: Moment): Verdict {
  let verdict: Verdict = 'inside';
  for (const place of own.tracks) {
    const track = judge.tracks[place];
    if (track === undefined) continue;
    const beyond = (value - track.limit) * track.side;
    if (beyond > 0) verdict = 'outside';
    // Most values are inside, with no open excursion that they could end.
    else if (track.open === null && track.candidate === null) continue;
    const lasted = track.open !== null;
    keepEnded(judge, trackValue(track, value, from, to, own.delays));
    if (!lasted && track.open !== null) judge.revision += 1;
  }
  return verdict;
}

function keepEnded(judge: LimitTracks<string>, ended: TrackedExcursion | null): void {
  if (ended === null) return;
  judge.excursions.push(ended);
  judge.revision += 1;
}

/** Ends the open excursions of the arcs that went out in a row, or all of them if all arcs are out. */
export function endWithArcs(judge: LimitTracks<string>, rows: Float64Array, at: number): void {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (wentOut(rows, own)) for (const track of judge.tracks) if (track.arc === arcNumber(rows, own)) keepEnded(judge, endTrack(track));
  }
  if (allOut(rows, at)) endTracks(judge);
}

/** Ends every open excursion with its last judged value. */
export function endTracks(judge: LimitTracks<string>): void {
  for (const track of judge.tracks) keepEnded(judge, endTrack(track));
}

/** Every excursion found so far, in order of where it begins; one that lasts has no end. */
export function foundExcursions({ tracks, excursions }: LimitTracks<string>): TrackedExcursion[] {
  const open = tracks.flatMap((track) => (track.open === null ? [] : [track.open]));
  return [...excursions, ...open].sort((a, b) => a.from.time - b.from.time);
}

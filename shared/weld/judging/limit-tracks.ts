import { endTrack, startTrack, trackValue, type Delays, type TrackedExcursion, type ExcursionTrack, type Moment } from './excursion-track.js';
import type { JudgedWindow } from '../procedure/judged-window.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import { allOut, wentOut } from '../rows/zone-spans.js';

/** One quantity that is judged, and the places of its window's ends among the tracks of the judge. */
export interface Ends<Quantity extends string = JudgedWindow['quantity']> extends JudgedWindow<Quantity> {
  readonly delays: Delays;
  readonly tracks: readonly number[];
}

/** Quantities against their limits, and what was found of them. */
export interface LimitTracks<Quantity extends string = JudgedWindow['quantity']> {
  readonly ends: readonly Ends<Quantity>[];
  tracks: ExcursionTrack[];
  /** Those that are over, in the order in which they ended. */
  excursions: TrackedExcursion[];
  /** Counts up whenever an excursion begins to last, ends or is found no longer. */
  revision: number;
}

/** Adds the tracks of a window's ends to `tracks`. */
export function startEnds<Quantity extends string>(tracks: ExcursionTrack[], own: JudgedWindow<Quantity>, deadband: number, { onDelay, offDelay }: Delays): Ends<Quantity> {
  const { arc, quantity, window } = own;
  const places = ([[window.max, 1], [window.min, -1]] as const).flatMap(([limit, side]) => (limit === undefined ? [] : [tracks.push(startTrack(arc, quantity, limit, side, deadband)) - 1]));
  return { ...own, delays: { onDelay, offDelay }, tracks: places };
}

export function cloneLimitTracks<Tracks extends LimitTracks<string>>(own: Tracks): Tracks {
  return { ...own, tracks: own.tracks.map((track) => ({ ...track })), excursions: own.excursions.slice() };
}

export type Verdict = 'inside' | 'outside' | 'missing';

/** Follows a value, which holds from `from` to `to`, against both ends of its window. */
export function followValue<Quantity extends string>(judge: LimitTracks<Quantity>, own: Ends<Quantity>, value: number, from: Moment, to: Moment): Verdict {
  let verdict: Verdict = 'inside';
  for (const place of own.tracks) {
    const track = judge.tracks[place];
    if (track === undefined) continue;
    const beyond = (value - track.limit) * track.side;
    if (beyond > 0) verdict = 'outside';
    // Most values are inside, with nothing open that they could end.
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

/** What is open of the arcs that went out in a row ends, of everything where all are out. */
export function endWithArcs(judge: LimitTracks<string>, rows: Float64Array, at: number): void {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (wentOut(rows, own)) for (const track of judge.tracks) if (track.arc === arcNumber(rows, own)) keepEnded(judge, endTrack(track));
  }
  if (allOut(rows, at)) endTracks(judge);
}

/** What is open ends with its last judged value. */
export function endTracks(judge: LimitTracks<string>): void {
  for (const track of judge.tracks) keepEnded(judge, endTrack(track));
}

/** Every excursion found so far, in order of where it begins; those that last have no end. */
export function foundExcursions({ tracks, excursions }: LimitTracks<string>): TrackedExcursion[] {
  const open = tracks.flatMap((track) => (track.open === null ? [] : [track.open]));
  return [...excursions, ...open].sort((a, b) => a.from.time - b.from.time);
}

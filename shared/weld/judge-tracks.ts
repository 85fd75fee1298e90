import type { Excursion, ExcursionTrack, Moment } from './excursion-track.js';
import { startTrack, trackValue } from './excursion-track.js';
import type { Followed } from './followed.js';
import { followedHeat, followedRows } from './followed.js';
import type { SeamHeat } from './heat-along-seam.js';
import { cloneSeamHeat, startSeamHeat } from './heat-along-seam.js';
import type { HeatPassages } from './heat-passages.js';
import { cloneHeatPassages, startHeatPassages } from './heat-passages.js';
import type { RunWindows } from './run-windows.js';
import { deadbandOf } from './run-windows.js';
import type { RunParameters } from './zone.js';

/** One quantity that is judged, and the places of its window's ends among the tracks of the judge. */
export interface Ends extends Followed {
  readonly tracks: readonly number[];
}

/** A row of the weld zone whose heat input can not be judged before the arcs have gone on. */
export interface HeatRow {
  readonly place: number;
  readonly from: Moment;
  readonly to: Moment;
  /** mm of it that are weld. */
  readonly length: number;
  /** Enough of it is weld to be judged. */
  readonly mostlyWeld: boolean;
  readonly outside: boolean;
  readonly missing: boolean;
}

/** Is told every value that is judged, in order of its quantity's rows; those of heat input may be taken back. */
export interface JudgedListener {
  value(own: Ends, value: number, from: Moment): void;
  takeBackHeat(): void;
}

/** A run against the windows of its procedure, as far as its rows are settled. */
export interface RunJudge {
  readonly windows: RunWindows;
  readonly parameters: RunParameters;
  /** In the order of `followedRows`. */
  readonly ends: readonly Ends[];
  readonly heatInput: Ends | null;
  /** mm that the last of the arcs runs behind arc 1. */
  readonly behind: number;
  tracks: ExcursionTrack[];
  excursions: Excursion[];
  heat: SeamHeat;
  heatRows: HeatRow[];
  passages: HeatPassages;
  outside: number;
  notProven: number;
  /** Never there where the state is kept: a function can not be stored. */
  listener?: JudgedListener;
}

export function startRunJudge(windows: RunWindows, parameters: RunParameters): RunJudge {
  const tracks: ExcursionTrack[] = [];
  const endsOf = (own: Followed): Ends => {
    const { arc, quantity, window } = own;
    const band = deadbandOf(window, windows.deadband);
    const places = ([[window.max, 1], [window.min, -1]] as const).flatMap(([limit, side]) => (limit === undefined ? [] : [tracks.push(startTrack(arc, quantity, limit, side, band)) - 1]));
    return { ...own, tracks: places };
  };
  const ends = followedRows(windows).map(endsOf);
  const heat = followedHeat(windows);
  const behind = Math.max(0, ...Object.values(parameters.offsets));
  return {
    windows, parameters, ends, heatInput: heat === null ? null : endsOf(heat), behind, tracks, excursions: [],
    heat: startSeamHeat(), heatRows: [], passages: startHeatPassages(), outside: 0, notProven: 0,
  };
}

export function cloneRunJudge(judge: RunJudge): RunJudge {
  return {
    ...judge,
    tracks: judge.tracks.map((track) => ({ ...track })),
    excursions: judge.excursions.slice(),
    heat: cloneSeamHeat(judge.heat),
    heatRows: judge.heatRows.slice(),
    passages: cloneHeatPassages(judge.passages),
  };
}

export type Verdict = 'inside' | 'outside' | 'missing';

/** Follows a value against both ends of its window. */
export function follow(judge: RunJudge, own: Ends, value: number | null, from: Moment, to: Moment): Verdict {
  if (value === null) return 'missing';
  judge.listener?.value(own, value, from);
  let verdict: Verdict = 'inside';
  for (const place of own.tracks) {
    const track = judge.tracks[place];
    if (track === undefined) continue;
    const beyond = (value - track.limit) * track.side;
    if (beyond > 0) verdict = 'outside';
    // Most values are inside, with nothing open that they could end.
    else if (track.open === null && track.candidate === null) continue;
    keepEnded(judge, trackValue(track, value, from, to, judge.windows));
  }
  return verdict;
}

export function keepEnded(judge: RunJudge, ended: Excursion | null): void {
  if (ended !== null) judge.excursions.push(ended);
}

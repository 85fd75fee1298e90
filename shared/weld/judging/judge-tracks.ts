import type { ExcursionTrack, Moment } from './excursion-track.js';
import { windowOnHeat, windowsOnRows, type JudgedWindow } from '../procedure/judged-window.js';
import { cloneSeamHeat, startSeamHeat, type SeamHeat } from './heat-along-seam.js';
import { cloneHeatPassages, startHeatPassages, type HeatPassages } from './heat-passages.js';
import { cloneLimitTracks, followValue, startEnds, type Ends, type LimitTracks, type Verdict } from './limit-tracks.js';
import { deadbandOf, type RunWindows } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';

/** A row of the weld zone whose heat input cannot be judged before the arcs have moved on. */
export interface HeatRow {
  readonly place: number;
  readonly from: Moment;
  readonly to: Moment;
  /** The length of it that is weld, mm. */
  readonly length: number;
  /** Whether enough of it is weld for it to be judged. */
  readonly mostlyWeld: boolean;
  readonly outside: boolean;
  readonly missing: boolean;
}

/** Receives every judged value, in order of the rows of its quantity; those of heat input may be taken back. */
export interface JudgedListener {
  value(own: Ends, value: number, from: Moment): void;
  takeBackHeat(): void;
}

/** A run against the windows of its procedure, as far as its rows are settled. */
export interface RunJudge extends LimitTracks {
  readonly windows: RunWindows;
  readonly parameters: RunParameters;
  readonly heatInput: Ends | null;
  /** The mm by which the last of the arcs runs behind arc 1. */
  readonly behind: number;
  heat: SeamHeat;
  heatRows: HeatRow[];
  passages: HeatPassages;
  outside: number;
  notProven: number;
  /** Absent where the state is stored, since a function cannot be. */
  listener?: JudgedListener;
}

export function startRunJudge(windows: RunWindows, parameters: RunParameters): RunJudge {
  const tracks: ExcursionTrack[] = [];
  const endsOf = (own: JudgedWindow): Ends => startEnds(tracks, own, deadbandOf(own.window, windows.deadband), windows);
  // The ends are in the order of `windowsOnRows`.
  const ends = windowsOnRows(windows).map(endsOf);
  const heat = windowOnHeat(windows);
  const behind = Math.max(0, ...Object.values(parameters.offsets));
  return {
    windows, parameters, ends, heatInput: heat === null ? null : endsOf(heat), behind, tracks, excursions: [], revision: 0,
    heat: startSeamHeat(), heatRows: [], passages: startHeatPassages(), outside: 0, notProven: 0,
  };
}

export function cloneRunJudge(judge: RunJudge): RunJudge {
  return {
    ...cloneLimitTracks(judge), heat: cloneSeamHeat(judge.heat), heatRows: judge.heatRows.slice(),
    passages: cloneHeatPassages(judge.passages),
  };
}

/** Judges one value of the record; null if it was not sent. */
export function judgeValue(judge: RunJudge, own: Ends, value: number | null, { from, to }: { readonly from: Moment; readonly to: Moment }): Verdict {
  if (value === null) return 'missing';
  judge.listener?.value(own, value, from);
  return followValue(judge, own, value, from, to);
}

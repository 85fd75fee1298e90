import type { ExcursionTrack, Moment } from './excursion-track.js';
import { windowsAlongSeam, windowsOnRows, type JudgedWindow } from '../procedure/judged-window.js';
import type { SeamJudgedName } from '../quantities.js';
import { cloneSeamHeat, startSeamHeat, type SeamHeat } from './heat-along-seam.js';
import { cloneSeamPassages, startSeamPassages, type SeamPassages } from './seam-passages.js';
import { cloneLimitTracks, followValue, startEnds, type Ends, type LimitTracks, type Verdict } from './limit-tracks.js';
import { deadbandOf, type RunWindows } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';

/** A row of the weld zone that cannot be judged along the seam before the arcs have moved on. */
export interface SeamRow {
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

/** Receives every judged value, in order of the rows of its quantity; those along the seam may be taken back. */
export interface JudgedListener {
  value(own: Ends, value: number, from: Moment): void;
  takeBackAlongSeam(): void;
}

/** A run against the windows of its procedure, as far as its rows are settled. */
export interface RunJudge extends LimitTracks {
  readonly windows: RunWindows;
  readonly parameters: RunParameters;
  /** The windows that are judged along the seam. */
  readonly alongSeam: readonly Ends<SeamJudgedName>[];
  /** The mm by which the last of the arcs runs behind arc 1. */
  readonly behind: number;
  heat: SeamHeat;
  seamRows: SeamRow[];
  passages: SeamPassages;
  outside: number;
  notProven: number;
  /** Absent where the state is stored, since a function cannot be. */
  listener?: JudgedListener;
}

export function startRunJudge(windows: RunWindows, parameters: RunParameters): RunJudge {
  const tracks: ExcursionTrack[] = [];
  const endsOf = <Quantity extends JudgedWindow['quantity']>(own: JudgedWindow<Quantity>): Ends<Quantity> => startEnds(tracks, own, deadbandOf(own.window, windows.deadband), windows);
  // The ends are in the order of `windowsOnRows`.
  const ends = windowsOnRows(windows).map((own) => endsOf(own));
  const alongSeam = windowsAlongSeam(windows).map((own) => endsOf(own));
  const behind = Math.max(0, ...Object.values(parameters.offsets));
  return {
    windows, parameters, ends, alongSeam, behind, tracks, excursions: [], revision: 0,
    heat: startSeamHeat(), seamRows: [], passages: startSeamPassages(), outside: 0, notProven: 0,
  };
}

export function cloneRunJudge(judge: RunJudge): RunJudge {
  return {
    ...cloneLimitTracks(judge), heat: cloneSeamHeat(judge.heat), seamRows: judge.seamRows.slice(),
    passages: cloneSeamPassages(judge.passages),
  };
}

/** Judges one value of the record; null if it was not sent. */
export function judgeValue(judge: RunJudge, own: Ends, value: number | null, { from, to }: { readonly from: Moment; readonly to: Moment }): Verdict {
  if (value === null) return 'missing';
  judge.listener?.value(own, value, from);
  return followValue(judge, own, value, from, to);
}

import type { Excursion, ExcursionTrack, Moment } from './excursion-track.js';
import { endTrack, startTrack, trackValue } from './excursion-track.js';
import type { Followed } from './followed.js';
import { followedHeat, followedRows } from './followed.js';
import type { SeamHeat } from './heat-along-seam.js';
import { addDeposits, clearDeposits, cloneSeamHeat, forgetBehind, hasDeposits, heatAt, startSeamHeat, turnsBack } from './heat-along-seam.js';
import type { JudgedRows } from './judged-rows.js';
import { smoothedValue } from './judged-rows.js';
import type { RunRowGroup } from './row.js';
import { arcRowFlags } from './row.js';
import type { RunWindows } from './run-windows.js';
import { deadbandOf } from './run-windows.js';
import type { WeldShares } from './weld-shares.js';
import { allOut, wentOut } from './zone-spans.js';
import type { RunParameters } from './zone.js';
import type { ZonedRow } from './zoned-row.js';

/** A row is judged where at least half of its burning is weld; the last bits of a division do not count. */
const mostlyWeld = 0.5 - 1e-9;

/** Places of a window's ends among the tracks of the judge. */
interface Ends {
  readonly arc: number | null;
  readonly tracks: readonly number[];
}

/** A row of the weld zone whose heat input can not be judged before the arcs have gone on. */
interface HeatRow {
  readonly place: number;
  readonly from: Moment;
  readonly to: Moment;
  /** mm of it that are weld. */
  readonly length: number;
  readonly outside: boolean;
  readonly missing: boolean;
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
  outside: number;
  notProven: number;
}

export function startRunJudge(windows: RunWindows, parameters: RunParameters): RunJudge {
  const tracks: ExcursionTrack[] = [];
  const endsOf = ({ arc, quantity, window }: Followed): Ends => {
    const band = deadbandOf(window, windows.deadband);
    const places = ([[window.max, 1], [window.min, -1]] as const).flatMap(([limit, side]) => (limit === undefined ? [] : [tracks.push(startTrack(arc, quantity, limit, side, band)) - 1]));
    return { arc, tracks: places };
  };
  const ends = followedRows(windows).map(endsOf);
  const heat = followedHeat(windows);
  const behind = Math.max(0, ...Object.values(parameters.offsets));
  return { windows, parameters, ends, heatInput: heat === null ? null : endsOf(heat), behind, tracks, excursions: [], heat: startSeamHeat(), heatRows: [], outside: 0, notProven: 0 };
}

export function cloneRunJudge(judge: RunJudge): RunJudge {
  return {
    ...judge,
    tracks: judge.tracks.map((track) => ({ ...track })),
    excursions: judge.excursions.slice(),
    heat: cloneSeamHeat(judge.heat),
    heatRows: judge.heatRows.slice(),
  };
}

/**
 * Judges a row that is settled as weld or not, by its smoothed values among `rows`. `complete`: all rows are there that these look
 * ahead at, so that who judges the row again finds the same values.
 */
export function judgeRow(judge: RunJudge, rows: JudgedRows, zoned: ZonedRow, { share, arcShares }: WeldShares, complete: boolean): void {
  const { group } = zoned;
  const found = { outside: false, missing: false };
  for (let k = 0; k < judge.ends.length; k += 1) {
    const own = judge.ends[k];
    if (own === undefined || ((own.arc === null ? share : arcShares[own.arc]) ?? 0) < mostlyWeld) continue;
    note(found, follow(judge, own, judgedValue(rows, zoned, k, complete), zoned.from, zoned.to));
  }
  judgeHeat(judge, zoned, share, found);
  for (const { arc, row } of group.arcs) if (wentOut(row)) endArc(judge, arc);
  if (allOut(group)) endAll(judge);
}

function judgedValue(rows: JudgedRows, { judged, number }: ZonedRow, k: number, complete: boolean): number | null {
  const known = judged[k];
  if (known !== undefined) return known;
  const value = smoothedValue(rows, k, number);
  if (complete) judged[k] = value;
  return value;
}

type Verdict = 'inside' | 'outside' | 'missing';

function note(found: { outside: boolean; missing: boolean }, verdict: Verdict): void {
  if (verdict === 'outside') found.outside = true;
  if (verdict === 'missing') found.missing = true;
}

/** Follows a value against both ends of its window. */
function follow(judge: RunJudge, { tracks }: Ends, value: number | null, from: Moment, to: Moment): Verdict {
  if (value === null) return 'missing';
  let verdict: Verdict = 'inside';
  for (const place of tracks) {
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

/** Heat input is judged along the seam: the row waits until every arc has gone past its surroundings. */
function judgeHeat(judge: RunJudge, { group, from, to }: ZonedRow, share: number, found: { outside: boolean; missing: boolean }): void {
  const length = group.run.length * share;
  const { parameters, windows } = judge;
  if (windows.run.heatInput === undefined) {
    settleLength(judge, length, found.outside, found.missing);
    return;
  }
  if (turnsBack(judge.heat, group)) {
    settleHeat(judge, null);
    judge.heat = startSeamHeat();
  } else if (group.arcs.some((own) => isLitAgain(judge.heat, own))) {
    // Lit again, maybe further back: what is behind is a passage of its own.
    settleHeat(judge, null);
    for (const own of group.arcs) if (isLitAgain(judge.heat, own)) clearDeposits(judge.heat, own.arc);
  }
  addDeposits(judge.heat, group, parameters.offsets);
  const place = (from.travelled + to.travelled) / 2;
  if (share >= mostlyWeld) judge.heatRows.push({ place, from, to, length, outside: found.outside, missing: found.missing });
  else settleLength(judge, length, found.outside, found.missing);
  settleHeat(judge, to.travelled, judge.behind + windows.heatInputLength / 2);
}

function isLitAgain(heat: SeamHeat, { arc, row }: RunRowGroup['arcs'][number]): boolean {
  return (row.flags & arcRowFlags.lit) !== 0 && hasDeposits(heat, arc);
}

/** Judges the waiting rows that the carriage, now at `reached`, has left at least `ahead` mm behind; all where it is null. */
function settleHeat(judge: RunJudge, reached: number | null, ahead = 0): void {
  const { windows, parameters } = judge;
  const heat = judge.heatInput;
  if (heat === null) return;
  const reach = windows.heatInputLength / 2;
  const { heatRows } = judge;
  let settled = false;
  for (let row = heatRows[0]; row !== undefined; row = heatRows[0]) {
    if (reached !== null && (reached - row.place) * judge.heat.direction < ahead) break;
    heatRows.shift();
    settled = true;
    const verdict = follow(judge, heat, heatAt(judge.heat, row.place, reach, parameters.thermalEfficiency), row.from, row.to);
    settleLength(judge, row.length, row.outside || verdict === 'outside', row.missing || verdict === 'missing');
  }
  // Where none waits, the next one to come lies ahead.
  const oldest = heatRows[0]?.place ?? reached;
  if (oldest !== null && (settled || heatRows.length === 0)) forgetBehind(judge.heat, oldest, reach);
}

function settleLength(judge: RunJudge, length: number, outside: boolean, missing: boolean): void {
  if (outside) judge.outside += length;
  else if (missing) judge.notProven += length;
}

function endArc(judge: RunJudge, arc: number): void {
  for (const track of judge.tracks) if (track.arc === arc) keepEnded(judge, endTrack(track));
}

function endAll(judge: RunJudge): void {
  settleHeat(judge, null);
  for (const track of judge.tracks) keepEnded(judge, endTrack(track));
}

function keepEnded(judge: RunJudge, ended: Excursion | null): void {
  if (ended !== null) judge.excursions.push(ended);
}

/** The run is over: what is open ends with its last judged value. */
export function endJudge(judge: RunJudge): void {
  endAll(judge);
}

/** Every excursion found so far, in order of where it begins; those that last have no end. */
export function foundExcursions(judge: RunJudge): Excursion[] {
  const open = judge.tracks.flatMap((track) => (track.open === null ? [] : [track.open]));
  return [...judge.excursions, ...open].sort((a, b) => a.from.time - b.from.time);
}

/** For a look at the present: what waits for places to come is judged by what there is. */
export function settleJudge(judge: RunJudge): void {
  settleHeat(judge, null);
}

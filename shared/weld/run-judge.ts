import type { Excursion, ExcursionTrack, Moment } from './excursion-track.js';
import { endTrack, startTrack, trackValue } from './excursion-track.js';
import type { SeamHeat } from './heat-along-seam.js';
import { addDeposits, cloneSeamHeat, forgetBehind, heatAt, startSeamHeat, turnsBack } from './heat-along-seam.js';
import type { RowNeighbours } from './judged-values.js';
import { arcRow, judgedArcValue, judgedSpeed } from './judged-values.js';
import type { RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import type { RunningVariation } from './running-variation.js';
import { addVariation, cloneVariation, startVariation, variationOf } from './running-variation.js';
import type { ArcQuantity, RunQuantity, RunWindows, Window } from './run-windows.js';
import { arcQuantities, crossedLimit, deadbandOf } from './run-windows.js';
import type { RunParameters } from './zone.js';

/** A row is judged where at least half of its burning is weld; the last bits of a division do not count. */
const mostlyWeld = 0.5 - 1e-9;

/** One window and the tracks of its ends. */
interface Followed {
  readonly arc: number | null;
  readonly quantity: ArcQuantity | RunQuantity;
  readonly window: Window;
  /** Places of the ends' tracks among those of the judge. */
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
  /** Of arcs, of travel speed, and of heat input. */
  readonly followed: readonly Followed[];
  tracks: ExcursionTrack[];
  excursions: Excursion[];
  /** As many rows before the one at hand as smoothing looks back on. */
  before: RunRowGroup[];
  variations: Record<number, RunningVariation>;
  heat: SeamHeat;
  heatRows: HeatRow[];
  outside: number;
  notProven: number;
}

export function startRunJudge(windows: RunWindows, parameters: RunParameters): RunJudge {
  const tracks: ExcursionTrack[] = [];
  const follow = (arc: number | null, quantity: Followed['quantity'], window: Window): Followed => {
    const band = deadbandOf(window, windows.deadband);
    const ends = ([[window.max, 1], [window.min, -1]] as const).flatMap(([limit, side]) => (limit === undefined ? [] : [tracks.push(startTrack(arc, quantity, limit, side, band)) - 1]));
    return { arc, quantity, window, tracks: ends };
  };
  const followed: Followed[] = [];
  const variations: RunJudge['variations'] = {};
  for (const [arc, own] of Object.entries(windows.arcs)) {
    for (const quantity of arcQuantities) {
      const window = own[quantity];
      if (window !== undefined) followed.push(follow(Number(arc), quantity, window));
    }
    if (own.currentVariation !== undefined || own.voltageVariation !== undefined) variations[Number(arc)] = startVariation();
  }
  for (const quantity of ['travelSpeed', 'heatInput'] as const) {
    const window = windows.run[quantity];
    if (window !== undefined) followed.push(follow(null, quantity, window));
  }
  return { windows, parameters, followed, tracks, excursions: [], before: [], variations, heat: startSeamHeat(), heatRows: [], outside: 0, notProven: 0 };
}

export function cloneRunJudge(judge: RunJudge): RunJudge {
  const variations: RunJudge['variations'] = {};
  for (const [arc, own] of Object.entries(judge.variations)) variations[Number(arc)] = cloneVariation(own);
  return {
    ...judge,
    tracks: judge.tracks.map((track) => ({ ...track })),
    excursions: judge.excursions.slice(),
    before: judge.before.slice(),
    variations,
    heat: cloneSeamHeat(judge.heat),
    heatRows: judge.heatRows.slice(),
  };
}

export interface PassedRow {
  readonly group: RunRowGroup;
  /** Share of the burning in the row that is weld, of the run and of each arc. */
  readonly share: number;
  readonly arcShares: ReadonlyMap<number, number>;
}

/** Judges a row that is settled as weld or not. `after` are the rows behind it, as far as they are known. */
export function judgeRow(judge: RunJudge, { group, share, arcShares }: PassedRow, after: readonly RunRowGroup[]): void {
  const { run } = group;
  const around: RowNeighbours = { before: judge.before, row: group, after };
  const from: Moment = { time: run.index * rowLength + run.from, travelled: run.travelled };
  const to: Moment = { time: (run.index + 1) * rowLength, travelled: run.travelled + run.advance };
  const found = { outside: false, missing: false };
  for (const [arc, variation] of Object.entries(judge.variations)) {
    const row = arcRow(group, Number(arc));
    if (row !== undefined) addVariation(variation, row);
  }
  for (const own of judge.followed) {
    if (own.quantity === 'heatInput' || ((own.arc === null ? share : arcShares.get(own.arc)) ?? 0) < mostlyWeld) continue;
    note(found, follow(judge, own, judgedValue(judge, own, around), from, to));
  }
  judgeHeat(judge, group, share, from, to, found);
  for (const { arc, row } of group.arcs) if ((row.flags & arcRowFlags.out) !== 0) endArc(judge, arc);
  if (group.arcs.some(({ row }) => (row.flags & arcRowFlags.out) !== 0) && group.arcs.every(({ row }) => row.on === 0 || (row.flags & arcRowFlags.out) !== 0)) endAll(judge);
  judge.before.push(group);
  const back = Math.ceil(judge.windows.smoothing / 2 / rowLength) + 1;
  if (judge.before.length > 4 * back) judge.before.splice(0, judge.before.length - back);
}

function judgedValue(judge: RunJudge, { arc, quantity }: Followed, around: RowNeighbours): number | null {
  const { smoothing } = judge.windows;
  if (arc === null) return judgedSpeed(around, smoothing);
  if (quantity === 'currentVariation' || quantity === 'voltageVariation') {
    const variation = judge.variations[arc];
    return variation === undefined ? null : variationOf(variation, quantity);
  }
  return quantity === 'travelSpeed' || quantity === 'heatInput' ? null : judgedArcValue(around, arc, quantity, smoothing);
}

type Verdict = 'inside' | 'outside' | 'missing';

function note(found: { outside: boolean; missing: boolean }, verdict: Verdict): void {
  if (verdict === 'outside') found.outside = true;
  if (verdict === 'missing') found.missing = true;
}

/** Follows a value against both ends of its window. */
function follow(judge: RunJudge, { window, tracks }: Followed, value: number | null, from: Moment, to: Moment): Verdict {
  if (value === null) return 'missing';
  for (const place of tracks) {
    const track = judge.tracks[place];
    if (track !== undefined) keepEnded(judge, trackValue(track, value, from, to, judge.windows));
  }
  return crossedLimit(window, value) === null ? 'inside' : 'outside';
}

/** Heat input is judged along the seam: the row waits until every arc has gone past its surroundings. */
function judgeHeat(judge: RunJudge, group: RunRowGroup, share: number, from: Moment, to: Moment, found: { outside: boolean; missing: boolean }): void {
  const { run } = group;
  const length = run.length * share;
  const { parameters, windows } = judge;
  if (windows.run.heatInput === undefined) {
    settleLength(judge, length, found.outside, found.missing);
    return;
  }
  const again = group.arcs.filter(({ arc, row }) => (row.flags & arcRowFlags.lit) !== 0 && judge.heat.deposits[arc] !== undefined);
  if (turnsBack(judge.heat, group)) {
    settleHeat(judge, null);
    judge.heat = startSeamHeat();
  } else if (again.length > 0) {
    // Lit again, maybe further back: what is behind is a passage of its own.
    settleHeat(judge, null);
    for (const { arc } of again) judge.heat.deposits[arc] = [];
  }
  addDeposits(judge.heat, group, parameters.offsets);
  const place = (from.travelled + to.travelled) / 2;
  if (share >= mostlyWeld) judge.heatRows.push({ place, from, to, length, ...found });
  else settleLength(judge, length, found.outside, found.missing);
  const behind = Math.max(0, ...Object.values(parameters.offsets));
  settleHeat(judge, { place: to.travelled, ahead: behind + windows.heatInputLength / 2 });
}

/** Judges the waiting rows that the carriage, now at `place`, has left at least `ahead` mm behind; null for all. */
function settleHeat(judge: RunJudge, reached: { readonly place: number; readonly ahead: number } | null): void {
  const { windows, parameters } = judge;
  const heat = judge.followed.find(({ quantity }) => quantity === 'heatInput');
  if (heat === undefined) return;
  const reach = windows.heatInputLength / 2;
  let count = 0;
  for (const row of judge.heatRows) {
    if (reached !== null && (reached.place - row.place) * judge.heat.direction < reached.ahead) break;
    const verdict = follow(judge, heat, heatAt(judge.heat, row.place, reach, parameters.thermalEfficiency), row.from, row.to);
    settleLength(judge, row.length, row.outside || verdict === 'outside', row.missing || verdict === 'missing');
    count += 1;
  }
  if (count === 0) return;
  judge.heatRows.splice(0, count);
  const oldest = judge.heatRows[0];
  if (oldest !== undefined) forgetBehind(judge.heat, oldest.place, reach);
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

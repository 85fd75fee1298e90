import type { WithdrawnCode } from './alarm-life.js';
import { excursionKey, type TrackedExcursion } from './excursion-track.js';
import { meetArcs } from './heat-judge.js';
import type { SmoothingWindow } from './smoothing-window.js';
import { cloneRunJudge, startRunJudge, type RunJudge } from './judge-tracks.js';
import { cloneLimitTracks, endTracks, foundExcursions, type LimitTracks } from './limit-tracks.js';
import { judgeMoment, startMomentary } from './momentary.js';
import type { MomentaryName } from '../quantities.js';
import { columnOf, rowLength, runColumn } from '../rows/row.js';
import { endJudge, judgeRow } from './run-judge.js';
import { weldShares } from './weld-shares.js';
import { allOut } from '../rows/zone-spans.js';
import type { RunParameters } from '../procedure/zone.js';
import type { PendingRow } from './pending-row.js';

/** Why an excursion is one no longer: only the crater made it, or an arc that was lit later had not passed there. */
export type LostTo = Exclude<WithdrawnCode, 'revised'>;

export interface LostExcursion {
  readonly excursion: TrackedExcursion;
  readonly to: LostTo;
}

/**
 * A run against its windows as it stands now, for alarms: the judge of the record gone on over the rows that wait for it, with their zones
 * as they are known now. An arc that goes out changes zones, so that it is made again then. At the end nothing waits, and it is the record.
 */
export interface Present {
  /** Null without windows. */
  judge: RunJudge | null;
  /** How many of the waiting rows it has judged. */
  judged: number;
  momentary: LimitTracks<MomentaryName>;
  /** What was an excursion once and is none any more, each as it was when it was lost first. It may come back. */
  lost: LostExcursion[];
}

export function startPresent(parameters: RunParameters): Present {
  const { windows } = parameters;
  return { judge: windows === null ? null : startRunJudge(windows, parameters), judged: 0, momentary: startMomentary(parameters), lost: [] };
}

export function clonePresent(present: Present): Present {
  const { judge, momentary, lost } = present;
  return { ...present, judge: judge === null ? null : cloneRunJudge(judge), momentary: cloneLimitTracks(momentary), lost: lost.slice() };
}

/** What the present goes on from. */
export interface Settled {
  /** The run as far as no crater can change it any more, and the rows since then. */
  readonly settled: RunJudge | null;
  readonly waiting: readonly PendingRow[];
  readonly judged: SmoothingWindow | null;
}

/** Goes on by the newest row; `zoned` where it waits to be settled. `craterFound`: an arc went out in it, and changed the zones of rows before. */
export function judgePresent(present: Present, rows: Float64Array, at: number, zoned: PendingRow | null, craterFound: boolean, own: Settled): void {
  if (zoned !== null) judgeMoment(present.momentary, zoned);
  if (present.judge === null) return;
  // Nothing that comes later can belong to what burnt before all arcs were out.
  const dark = columnOf(rows, at, runColumn.on) === 0 && columnOf(rows, at, runColumn.gap) === 0;
  const upTo = dark || allOut(rows, at) ? Infinity : columnOf(rows, at, runColumn.index) - rowsAhead(present.judge.windows.smoothing);
  if (craterFound) makeAgain(present, own, upTo);
  else goOn(present, own, rows, at, upTo);
}

/** A new arc is known with its row, before that is judged: what lies behind it was not passed by them all. */
function goOn(present: Present, own: Settled, rows: Float64Array, at: number, upTo: number): void {
  if (present.judge === null) return;
  meetArcs(present.judge, rows, at);
  loseUnpassed(present, present.judge);
  judgeUpTo(present, own, upTo);
}

/** The present of a run that is over: whatever waits is judged, and nothing lasts. */
export function endedPresent(present: Present, own: Settled): Present {
  const ended = clonePresent(present);
  judgeUpTo(ended, own, Infinity);
  if (ended.judge !== null) endJudge(ended.judge);
  endTracks(ended.momentary);
  return ended;
}

/** Counts up whenever the list of excursions changes, their worst values aside. */
export function presentRevision({ judge, momentary }: Present): number {
  return (judge?.revision ?? 0) + momentary.revision;
}

/** How many rows after one its judged value reaches. */
function rowsAhead(smoothing: number): number {
  return Math.ceil(smoothing / 2 / rowLength + 0.5) - 1;
}

function judgeUpTo(present: Present, { waiting, judged }: Settled, index: number): void {
  const { judge } = present;
  if (judge === null || judged === null) return;
  for (let next = waiting[present.judged]; next !== undefined && columnOf(next.rows, next.at, runColumn.index) <= index; next = waiting[present.judged]) {
    present.judged += 1;
    judgeRow(judge, judged, next, weldShares(next), index !== Infinity);
    loseUnpassed(present, judge);
  }
}

function loseUnpassed(present: Present, { passages }: RunJudge): void {
  for (const excursion of passages.takenBack.splice(0)) lose(present, excursion, 'unpassed');
}

function makeAgain(present: Present, own: Settled, upTo: number): void {
  const before = present.judge;
  if (before === null || own.settled === null) return;
  present.judge = cloneRunJudge(own.settled);
  present.judge.revision = before.revision + 1;
  present.judged = 0;
  for (const { rows, at } of own.waiting) meetArcs(present.judge, rows, at);
  judgeUpTo(present, own, upTo);
  const now = new Set(foundExcursions(present.judge).map(excursionKey));
  for (const found of foundExcursions(before)) if (!now.has(excursionKey(found))) lose(present, found, 'crater');
}

function lose(present: Present, excursion: TrackedExcursion, to: LostTo): void {
  const key = excursionKey(excursion);
  if (!present.lost.some((own) => excursionKey(own.excursion) === key)) present.lost.push({ excursion, to });
}

import type { WithdrawnCode } from './alarm-life.js';
import { excursionKey, type TrackedExcursion } from './excursion-track.js';
import { meetArcs } from './seam-judge.js';
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

/** Why an excursion no longer exists: only the crater caused it, or an arc that was lit later had not passed there. */
export type LostTo = Exclude<WithdrawnCode, 'revised'>;

export interface LostExcursion {
  readonly excursion: TrackedExcursion;
  readonly to: LostTo;
}

/**
 * The present state of a run against its windows, for alarms: the judge of the record, continued over the rows that wait for it, with their zones as
 * they are known now. An arc that goes out changes zones, so the state is then rebuilt. At the end no row waits, and the state equals the record.
 */
export interface Present {
  /** Null without windows. */
  judge: RunJudge | null;
  /** How many of the waiting rows it has judged. */
  judged: number;
  momentary: LimitTracks<MomentaryName>;
  /** Former excursions, each as it was when it was lost. One may come back, and is then as old as it was before. */
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

/** The state from which the present continues. */
export interface Settled {
  /** The judged run up to where no crater can change it any more, and the rows since then. */
  readonly settled: RunJudge | null;
  readonly waiting: readonly PendingRow[];
  readonly judged: SmoothingWindow | null;
}

/** Advances by the newest row; `zoned` is that row if it waits. `craterFound`: an arc went out in it and changed the zones of earlier rows. */
export function judgePresent(present: Present, rows: Float64Array, at: number, zoned: PendingRow | null, craterFound: boolean, own: Settled): void {
  if (zoned !== null) judgeMoment(present.momentary, zoned);
  if (present.judge === null) return;
  // No later row can belong to the time before all arcs were out.
  const dark = columnOf(rows, at, runColumn.on) === 0 && columnOf(rows, at, runColumn.gap) === 0;
  const upTo = dark || allOut(rows, at) ? Infinity : columnOf(rows, at, runColumn.index) - rowsAhead(present.judge.windows.smoothing);
  // A new arc is known with its first row, before that row is judged: nothing behind it was passed by all arcs.
  for (const excursion of meetArcs(present.judge, rows, at)) lose(present, excursion, 'unpassed');
  if (craterFound) makeAgain(present, own, upTo);
  else judgeUpTo(present, own, upTo);
}

/** The present of a run that is over: all waiting rows are judged, and no excursion lasts. */
export function endedPresent(present: Present, own: Settled): Present {
  const ended = clonePresent(present);
  judgeUpTo(ended, own, Infinity);
  if (ended.judge !== null) endJudge(ended.judge);
  endTracks(ended.momentary);
  return ended;
}

/** The number of rows after a row that its judged value depends on. */
function rowsAhead(smoothing: number): number {
  return Math.ceil(smoothing / 2 / rowLength + 0.5) - 1;
}

function judgeUpTo(present: Present, { waiting, judged }: Settled, index: number): void {
  const { judge } = present;
  if (judge === null || judged === null) return;
  for (let next = waiting[present.judged]; next !== undefined && columnOf(next.rows, next.at, runColumn.index) <= index; next = waiting[present.judged]) {
    present.judged += 1;
    judgeRow(judge, judged, next, weldShares(next), index !== Infinity);
  }
}

function makeAgain(present: Present, own: Settled, upTo: number): void {
  const before = present.judge;
  if (before === null || own.settled === null) return;
  present.judge = cloneRunJudge(own.settled);
  present.judge.revision = before.revision + 1;
  present.judged = 0;
  // What is taken back here, since the record knows of an arc later, has been lost already or was never here.
  for (const { rows, at } of own.waiting) meetArcs(present.judge, rows, at);
  judgeUpTo(present, own, upTo);
  const now = new Map(foundExcursions(present.judge).map((found) => [excursionKey(found), found]));
  for (const found of foundExcursions(before)) {
    // Without its crater one may still last for its on-delay, but later: it was found when it was.
    const still = now.get(excursionKey(found));
    if (still === undefined || still.established.time > found.established.time) lose(present, found, 'crater');
  }
}

/** One that was lost before was found when it was found first, and is otherwise as it was the last time. */
function lose(present: Present, excursion: TrackedExcursion, to: LostTo): void {
  const key = excursionKey(excursion);
  const at = present.lost.findIndex((own) => excursionKey(own.excursion) === key);
  const before = present.lost[at];
  if (before === undefined) present.lost.push({ excursion, to });
  else present.lost[at] = { excursion: { ...excursion, established: before.excursion.established }, to };
}

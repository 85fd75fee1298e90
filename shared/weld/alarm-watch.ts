import type { Excursion, ExcursionTrack, Moment } from './excursion-track.js';
import { endTrack, startTrack, trackValue } from './excursion-track.js';
import type { RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import type { RunJudge } from './run-judge.js';
import { cloneRunJudge, endJudge, judgeRow, startRunJudge } from './run-judge.js';
import { judgingDefaults } from './run-windows.js';
import type { ZonedRow } from './weld-shares.js';
import { weldShares } from './weld-shares.js';
import { wentOut } from './zone-spans.js';
import type { RunParameters } from './zone.js';

/** Share of the lower limit of travel speed under which a carriage counts as standing, and the speed in mm/min where there is no such limit; common practice, no source. */
const standingShare = 0.2;
const standingSpeed = 30;
/** µs that it must stand, and that a current must have the wrong sign; common practice, no source. */
const standingFor = 2_000_000;
const wrongSignFor = 1_000_000;

const standingTrack: string = 'travelStopped';

/** A run against its windows while it is welded: nobody knows yet where its arc will go out. */
export interface AlarmWatch {
  readonly parameters: RunParameters;
  /** As the record is judged, but that the crater counts as weld; null without windows. */
  judge: RunJudge | null;
  /** How many of the rows that wait for the record have been judged here. */
  watched: number;
  /** Travel stopped and wrong polarity, judged row by row. */
  tracks: Record<string, ExcursionTrack>;
  ended: Excursion[];
  /** Excursions that only the crater made, as the end of an arc has shown. */
  withdrawn: Excursion[];
}

export function startAlarmWatch(parameters: RunParameters): AlarmWatch {
  const { windows } = parameters;
  return { parameters, judge: windows === null ? null : startRunJudge(windows, parameters), watched: 0, tracks: {}, ended: [], withdrawn: [] };
}

export function cloneAlarmWatch(watch: AlarmWatch): AlarmWatch {
  const tracks: AlarmWatch['tracks'] = {};
  for (const [name, track] of Object.entries(watch.tracks)) tracks[name] = { ...track };
  return { ...watch, judge: watch.judge === null ? null : cloneRunJudge(watch.judge), tracks, ended: watch.ended.slice(), withdrawn: watch.withdrawn.slice() };
}

/**
 * Takes the newest row. `waiting` are the rows that the record has not judged yet, the newest last; `record` gives the
 * excursions that it would have if nothing more came.
 */
export function watchRow(watch: AlarmWatch, group: RunRowGroup, waiting: readonly ZonedRow[], record: () => readonly Excursion[]): void {
  followMotion(watch, group);
  followPolarity(watch, group);
  if (watch.judge === null) return;
  // Nothing that comes later can belong to what burnt before all arcs were out.
  const dark = group.run.on === 0 && group.run.gap === 0;
  const out = group.arcs.some(({ row }) => wentOut(row)) && group.arcs.every(({ row }) => row.on === 0 || wentOut(row));
  judgeUpTo(watch, watch.judge, waiting, dark || out ? Infinity : group.run.index - rowsAhead(watch.judge.windows.smoothing), record);
}

/** Judges whatever is left, for a run that has ended. */
export function endWatch(watch: AlarmWatch, waiting: readonly ZonedRow[], record: () => readonly Excursion[]): void {
  if (watch.judge !== null) {
    judgeUpTo(watch, watch.judge, waiting, Infinity, record);
    endJudge(watch.judge);
  }
  for (const track of Object.values(watch.tracks)) keep(watch, endTrack(track));
}

/** How many rows after one its judged value reaches. */
function rowsAhead(smoothing: number): number {
  return Math.ceil(smoothing / 2 / rowLength + 0.5) - 1;
}

function judgeUpTo(watch: AlarmWatch, judge: RunJudge, waiting: readonly ZonedRow[], index: number, record: () => readonly Excursion[]): void {
  for (let next = waiting[watch.watched]; next !== undefined && next.group.run.index <= index; next = waiting[watch.watched]) {
    watch.watched += 1;
    judgeRow(judge, { group: next.group, ...weldShares(next) }, waiting.slice(watch.watched, watch.watched + rowsAhead(judge.windows.smoothing)).map(({ group }) => group));
    if (next.group.arcs.some(({ row }) => wentOut(row))) settleCrater(watch, judge, (next.group.run.index + 1) * rowLength, record());
  }
}

/** An arc went out before `out`: what the record does not have was made by its crater alone. */
function settleCrater(watch: AlarmWatch, judge: RunJudge, out: number, record: readonly Excursion[]): void {
  const from = out - watch.parameters.craterTime - 2 * rowLength - judge.windows.offDelay;
  judge.excursions = judge.excursions.flatMap((own) => {
    if (own.to === null || own.to.time < from) return [own];
    const recorded = record.find((other) => sameExcursion(own, other));
    if (recorded !== undefined) return [recorded.to === null ? own : { ...own, worst: recorded.worst, to: recorded.to }];
    watch.withdrawn.push(own);
    return [];
  });
}

function sameExcursion(a: Excursion, b: Excursion): boolean {
  return a.quantity === b.quantity && a.arc === b.arc && a.limit === b.limit && a.from.time < (b.to?.time ?? Infinity) && b.from.time < (a.to?.time ?? Infinity);
}

function followMotion(watch: AlarmWatch, { run, arcs }: RunRowGroup): void {
  const lowest = watch.parameters.windows?.run.travelSpeed?.min;
  const limit = lowest === undefined ? standingSpeed : standingShare * lowest;
  const track = (watch.tracks[standingTrack] ??= startTrack(null, 'travelStopped', limit, -1, 0));
  if (run.on > 0 && run.speedTime > 0) follow(watch, track, Math.abs(run.speed / run.speedTime), standingFor, { run, arcs });
  else if (run.on === 0 && run.gap === 0) keep(watch, endTrack(track));
}

function followPolarity(watch: AlarmWatch, group: RunRowGroup): void {
  const signs = watch.parameters.windows?.polarity ?? {};
  for (const { arc, row } of group.arcs) {
    const sign = signs[arc];
    if (sign === undefined) continue;
    const track = (watch.tracks[`polarity ${arc}`] ??= startTrack(arc, 'polarity', 0, sign === 1 ? -1 : 1, 0));
    if (row.on > 0 && (row.flags & arcRowFlags.alternating) === 0) follow(watch, track, row.current / row.on, wrongSignFor, group);
    if (row.on === 0 || wentOut(row)) keep(watch, endTrack(track));
  }
}

function follow(watch: AlarmWatch, track: ExcursionTrack, value: number, onDelay: number, { run }: RunRowGroup): void {
  const from: Moment = { time: run.index * rowLength + run.from, travelled: run.travelled };
  const to: Moment = { time: (run.index + 1) * rowLength, travelled: run.travelled + run.advance };
  keep(watch, trackValue(track, value, from, to, { onDelay, offDelay: watch.parameters.windows?.offDelay ?? judgingDefaults.offDelay * 1e6 }));
}

function keep(watch: AlarmWatch, ended: Excursion | null): void {
  if (ended !== null) watch.ended.push(ended);
}

import type { Delays, Excursion, ExcursionTrack } from './excursion-track.js';
import { endTrack, startTrack, trackValue } from './excursion-track.js';
import type { JudgedRows } from './judged-rows.js';
import { arcRow } from './judged-values.js';
import type { RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import type { RunJudge } from './judge-tracks.js';
import { cloneRunJudge, startRunJudge } from './judge-tracks.js';
import { endJudge, judgeRow } from './run-judge.js';
import { judgingDefaults } from './run-windows.js';
import { weldShares } from './weld-shares.js';
import { allOut, anyOut, wentOut } from './zone-spans.js';
import type { RunParameters } from './zone.js';
import type { ZonedRow } from './zoned-row.js';

/** Share of the lower limit of travel speed under which a carriage counts as standing, and the speed in mm/min where there is no such limit; common practice, no source. */
const standingShare = 0.2;
const standingSpeed = 30;
/** µs that it must stand, and that a current must have the wrong sign; common practice, no source. */
const standingFor = 2_000_000;
const wrongSignFor = 1_000_000;

/** A run against its windows while it is welded: nobody knows yet where its arc will go out. */
export interface AlarmWatch {
  readonly parameters: RunParameters;
  /** As the record is judged, but that the crater counts as weld; null without windows. */
  judge: RunJudge | null;
  /** How many of the rows that wait for the record have been judged here. */
  watched: number;
  /** Travel stopped, and wrong polarity of each arc, judged row by row. */
  standing: ExcursionTrack;
  readonly standingDelays: Delays;
  polarities: ExcursionTrack[];
  readonly polarityDelays: Delays;
  ended: Excursion[];
  /** Excursions that only the crater made, as the end of an arc has shown; those of heat input where another arc did not pass, as its beginning has. */
  withdrawn: Excursion[];
  unpassed: Excursion[];
}

export function startAlarmWatch(parameters: RunParameters): AlarmWatch {
  const { windows } = parameters;
  const lowest = windows?.run.travelSpeed?.min;
  const standing = startTrack(null, 'travelStopped', lowest === undefined ? standingSpeed : standingShare * lowest, -1, 0);
  const polarities = Object.entries(windows?.polarity ?? {}).map(([arc, sign]) => startTrack(Number(arc), 'polarity', 0, sign === 1 ? -1 : 1, 0));
  const offDelay = windows?.offDelay ?? judgingDefaults.offDelay * 1e6;
  return {
    parameters, judge: windows === null ? null : startRunJudge(windows, parameters), watched: 0,
    standing, standingDelays: { onDelay: standingFor, offDelay }, polarities, polarityDelays: { onDelay: wrongSignFor, offDelay },
    ended: [], withdrawn: [], unpassed: [],
  };
}

export function cloneAlarmWatch(watch: AlarmWatch): AlarmWatch {
  return {
    ...watch,
    judge: watch.judge === null ? null : cloneRunJudge(watch.judge),
    standing: { ...watch.standing },
    polarities: watch.polarities.map((track) => ({ ...track })),
    ended: watch.ended.slice(),
    withdrawn: watch.withdrawn.slice(),
    unpassed: watch.unpassed.slice(),
  };
}

/** The tracks that are judged row by row. */
export function rowTracks(watch: AlarmWatch): ExcursionTrack[] {
  return [watch.standing, ...watch.polarities];
}

/** What the watch is told of the run whose rows it sees. */
export interface Watched {
  /** The rows that the record has not judged yet, the newest last, and their values; null without windows. */
  readonly waiting: readonly ZonedRow[];
  readonly judged: JudgedRows | null;
}

/** Takes the newest row; `zoned` where it waits to be judged. `record` gives the excursions that the record would have if nothing more came. */
export function watchRow(watch: AlarmWatch, group: RunRowGroup, zoned: ZonedRow | null, watched: Watched, record: () => readonly Excursion[]): void {
  followMotion(watch, group, zoned);
  followPolarity(watch, group, zoned);
  if (watch.judge === null) return;
  // Nothing that comes later can belong to what burnt before all arcs were out.
  const dark = group.run.on === 0 && group.run.gap === 0;
  judgeUpTo(watch, watch.judge, watched, dark || allOut(group) ? Infinity : group.run.index - rowsAhead(watch.judge.windows.smoothing), record);
}

/** Judges whatever is left, for a run that has ended. */
export function endWatch(watch: AlarmWatch, watched: Watched, record: () => readonly Excursion[]): void {
  if (watch.judge !== null) {
    judgeUpTo(watch, watch.judge, watched, Infinity, record);
    endJudge(watch.judge);
  }
  for (const track of rowTracks(watch)) keep(watch, endTrack(track));
}

/** How many rows after one its judged value reaches. */
function rowsAhead(smoothing: number): number {
  return Math.ceil(smoothing / 2 / rowLength + 0.5) - 1;
}

function judgeUpTo(watch: AlarmWatch, judge: RunJudge, { waiting, judged }: Watched, index: number, record: () => readonly Excursion[]): void {
  if (judged === null) return;
  for (let next = waiting[watch.watched]; next !== undefined && next.group.run.index <= index; next = waiting[watch.watched]) {
    watch.watched += 1;
    judgeRow(judge, judged, next, weldShares(next), index !== Infinity);
    watch.unpassed.push(...judge.passages.takenBack.splice(0));
    if (anyOut(next.group)) settleCrater(watch, judge, next.to.time, record());
  }
}

/** An arc went out before `out`: what the record does not have was made by its crater alone. */
function settleCrater(watch: AlarmWatch, judge: RunJudge, out: number, record: readonly Excursion[]): void {
  const from = out - watch.parameters.craterTime - 2 * rowLength - judge.windows.offDelay;
  judge.excursions = judge.excursions.flatMap((own) => {
    if (own.to === null || own.to.time < from) return [own];
    const recorded = record.find((other) => sameExcursion(own, other));
    if (recorded !== undefined) return [recorded.to === null ? own : { ...own, worst: recorded.worst, to: recorded.to, watchedTo: own.watchedTo ?? own.to }];
    watch.withdrawn.push(own);
    return [];
  });
}

function sameExcursion(a: Excursion, b: Excursion): boolean {
  return a.quantity === b.quantity && a.arc === b.arc && a.limit === b.limit && a.from.time < (b.to?.time ?? Infinity) && b.from.time < (a.to?.time ?? Infinity);
}

function followMotion(watch: AlarmWatch, { run }: RunRowGroup, zoned: ZonedRow | null): void {
  if (zoned !== null && run.on > 0 && run.speedTime > 0) follow(watch, watch.standing, Math.abs(run.speed / run.speedTime), watch.standingDelays, zoned);
  else if (run.on === 0 && run.gap === 0) keep(watch, endTrack(watch.standing));
}

function followPolarity(watch: AlarmWatch, group: RunRowGroup, zoned: ZonedRow | null): void {
  for (const track of watch.polarities) {
    const row = track.arc === null ? undefined : arcRow(group, track.arc);
    if (row === undefined) continue;
    if (zoned !== null && row.on > 0 && (row.flags & arcRowFlags.alternating) === 0) follow(watch, track, row.current / row.on, watch.polarityDelays, zoned);
    if (row.on === 0 || wentOut(row)) keep(watch, endTrack(track));
  }
}

function follow(watch: AlarmWatch, track: ExcursionTrack, value: number, delays: Delays, { from, to }: ZonedRow): void {
  keep(watch, trackValue(track, value, from, to, delays));
}

function keep(watch: AlarmWatch, ended: Excursion | null): void {
  if (ended !== null) watch.ended.push(ended);
}

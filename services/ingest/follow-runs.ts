import { alarmConditions, conditionsRevision } from '../../shared/weld/alarm-conditions.js';
import type { AlarmCondition } from '../../shared/weld/alarm-conditions.js';
import { untouched } from '../../shared/weld/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import { followConditions } from '../../shared/weld/follow-conditions.js';
import { priorityOf } from '../../shared/weld/quantities.js';
import type { RunState } from '../../shared/weld/run-state.js';
import { seamPosition } from '../../shared/weld/seam-position.js';
import type { FoldDeps } from './fold-deps.js';
import { keepAlarm, newAlarmId } from './keep-alarms.js';
import { hasEnded } from './run-end.js';
import { ensureEntry } from './run-entries.js';
import type { RunEntry, StreamState } from './stream-state.js';

/**
 * Raises, follows and returns the alarms of the runs that the last items touched, in the same transaction. `all`: also
 * what changes without an excursion beginning or ending, its worst value above all.
 */
export function followRuns(stream: StreamState, all: boolean, deps: FoldDeps): void {
  // An imported log is of the past.
  if (stream.stream !== '') return;
  for (const run of touchedRuns(stream)) followRun(stream, run, all, deps);
}

/** The runs that ended in what is still provisional or not yet written, and the open one. */
function touchedRuns(stream: StreamState): RunState[] {
  const open = stream.live.head.merge.run;
  let runs: Map<number, RunState> | null = stream.finishedRuns.size === 0 ? null : new Map(stream.finishedRuns);
  for (const { output } of stream.live.stretches) {
    for (const own of output) if (own.type === 'finished') (runs ??= new Map<number, RunState>()).set(own.run.ordinal, own.run);
  }
  // Asked with every commit, and mostly there is the open one alone.
  if (runs === null) return open === null ? [] : [open];
  if (open !== null) runs.set(open.ordinal, open);
  return [...runs.values()].sort((a, b) => a.ordinal - b.ordinal);
}

function followRun(stream: StreamState, run: RunState, all: boolean, deps: FoldDeps): void {
  const entry = stream.runs.get(run.ordinal);
  const burning = stream.live.head.arcs.some((arc) => arc.on);
  // A run whose data stopped under a burning arc counts as over for the record, and nobody knows whether it is.
  const newest = stream.live.head.newest ?? run.lastOn;
  const over = run.finished || (!burning && entry !== undefined && (entry.finished !== null || hasEnded(stream, { epoch: run.epoch, lastOn: run.lastOn, newest }, deps)));
  const mark = `${stream.live.refolds} ${conditionsRevision(run)} ${over} ${entry?.finished === null}`;
  if (entry !== undefined && stream.followed.get(entry.id)?.mark === mark && !(all && stands(stream, entry))) return;
  const conditions = alarmConditions(run, over);
  if (conditions.length === 0 && entry === undefined) return;
  const own = entry ?? ensureEntry(stream, run.ordinal, run.epoch, run.start, deps);
  if (!stream.followed.has(own.id)) followAgain(stream, own);
  const before = stream.followed.get(own.id)?.conditions ?? null;
  const open = own.finished === null;
  stream.followed.set(own.id, { mark, conditions: open ? conditions : null });
  // What is over in a finished run stays as it was known, whatever late items say.
  const alarms = stream.alarms.filter((alarm) => alarm.run === own.id && alarm.quantity !== 'noData' && (open || isLasting(alarm)));
  const raise = open ? (condition: AlarmCondition) => newAlarm(stream, own, run, condition, deps) : null;
  for (const alarm of followConditions(alarms, conditions, raise, before)) keepAlarm(stream, alarm, deps);
}

function stands(stream: StreamState, entry: RunEntry): boolean {
  return stream.alarms.some((alarm) => alarm.run === entry.id && isLasting(alarm));
}

function isLasting(alarm: AlarmFacts): boolean {
  return alarm.returnedAt === null && alarm.withdrawn === null;
}

/** Those of a run that goes on after it had ended, or after a restart of the service. */
function followAgain({ alarms, stored }: StreamState, { id }: RunEntry): void {
  const known = new Set(alarms.map((alarm) => alarm.id));
  for (const alarm of stored.ofRuns.get(id) ?? []) if (!known.has(alarm.id)) alarms.push(alarm);
  stored.ofRuns.delete(id);
}

function newAlarm(stream: StreamState, entry: RunEntry, run: RunState, condition: AlarmCondition, deps: FoldDeps): AlarmFacts {
  const { arc, quantity, limit, worst, from, raised } = condition;
  const { windows, offsets } = run.sums.parameters;
  const { priority, response, responses } = windows?.alarms?.[quantity] ?? {};
  const assignment = stream.timeline[run.epoch]?.body ?? null;
  return {
    id: newAlarmId(), run: entry.id, seam: assignment?.seam ?? null, runNumber: assignment?.run ?? null, arc, quantity, limit, worst,
    priority: priority ?? priorityOf(quantity),
    response: response ?? null,
    ...(responses === undefined ? {} : { responses }),
    since: from.time, raisedAt: raised.time, recordedAt: deps.now(), travelled: from.travelled,
    seamPosition: seamPosition(assignment, from.travelled, offsets[arc ?? 1]),
    ...untouched,
  };
}

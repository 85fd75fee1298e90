import { alarmConditions, conditionsRevision, type AlarmCondition } from '../../../shared/weld/run/alarm-conditions.js';
import { untouched, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { raiseAndWithdraw } from '../../../shared/weld/run/raise-and-withdraw.js';
import { priorityOf } from '../../../shared/weld/quantities.js';
import { temperatureConditions } from '../../../shared/weld/run/temperature-conditions.js';
import type { TemperatureCheck } from '../../../shared/weld/temperatures/temperature-checks.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import { seamPlace } from '../../../shared/weld/procedure/seam-place.js';
import { revisionOf, type FoldDeps } from '../fold/fold-deps.js';
import { checksOf, temperaturesOf } from '../fold/run-temperature.js';
import { saveAlarm, newAlarmId } from './save-alarm.js';
import { hasEnded } from '../fold/run-end.js';
import { ensureEntry } from '../fold/run-entries.js';
import type { Carriage } from '../fold/carriage.js';
import { knownEntry, type RunEntry } from '../fold/run-book.js';
import { recallAlarms, type AlarmBook, type FollowedRun } from '../fold/alarm-book.js';
import { assignmentOf } from '../fold/intake.js';

/**
 * Raises, updates and clears the alarms of the runs that the last items touched, in the same transaction. `all`: also updates what changes without an
 * excursion beginning or ending, above all the worst value.
 */
export function raiseRunAlarms(carriage: Carriage, all: boolean, deps: FoldDeps): void {
  // An imported log is in the past.
  if (carriage.kind === 'log') return;
  for (const run of touchedRuns(carriage)) followRun(carriage, run, all, deps);
}

/** The open run, and the runs that ended in rows that are still provisional or not yet written. */
function touchedRuns({ fold, runs: { finished } }: Carriage): RunState[] {
  const { live } = fold;
  const open = live.head.merge.run;
  let runs: Map<number, RunState> | null = finished.size === 0 ? null : new Map(finished);
  for (const { output } of live.stretches) {
    for (const own of output) if (own.type === 'finished') (runs ??= new Map<number, RunState>()).set(own.run.ordinal, own.run);
  }
  // This runs in every commit, and usually there is only the open run.
  if (runs === null) return open === null ? [] : [open];
  if (open !== null) runs.set(open.ordinal, open);
  return [...runs.values()].sort((a, b) => a.ordinal - b.ordinal);
}

function followRun(carriage: Carriage, run: RunState, all: boolean, deps: FoldDeps): void {
  const { intake, fold, runs, alarms } = carriage;
  // After folding again, the entry of a run may still wait to be found again.
  const known = knownEntry(runs, { ...run, assignment: assignmentOf(intake, run.epoch) });
  const burning = fold.live.head.arcs.some((arc) => arc.on);
  // A run whose data stopped under a burning arc counts as over for the record, although nobody knows whether it is.
  const newest = fold.live.head.newest ?? run.lastOn;
  const over = run.finished || (!burning && known !== undefined && (known.finished !== null || hasEnded(carriage, { epoch: run.epoch, lastOn: run.lastOn, newest }, deps)));
  const now = { refolds: fold.live.refolds, revision: conditionsRevision(run), over, open: known === undefined || known.finished === null };
  if (known !== undefined && isFollowed(alarms.followed.get(known.id), now) && !(all && stands(alarms, known))) return;
  const told = known?.recorded === true ? { time: newest, travelled: run.travelled } : null;
  const conditions = [...alarmConditions(run, over), ...temperatureConditions(run, checksOfRun(carriage, run, known, deps), told, over)];
  if (conditions.length === 0 && known === undefined) return;
  const entry = known !== undefined && conditions.length === 0 ? known : ensureEntry(carriage, run, deps);
  const before = alarms.followed.get(entry.id);
  if (before === undefined) recallAlarms(alarms, entry.id);
  alarms.followed.set(entry.id, { ...now, conditions });
  // An alarm that is over in a finished run stays as it was, whatever late items say.
  const ofRun = alarms.atHand.filter((alarm) => alarm.run === entry.id && alarm.quantity !== 'noData' && (now.open || isLasting(alarm)));
  const raise = now.open ? (condition: AlarmCondition) => newAlarm(carriage, entry, run, condition, deps) : null;
  for (const alarm of raiseAndWithdraw(ofRun, conditions, raise, before?.open === true ? before.conditions : null)) saveAlarm(carriage, alarm, deps);
}

/** The temperature before the arc against its limits, under the assignment by which the run is welded. */
function checksOfRun(carriage: Carriage, run: RunState, entry: RunEntry | undefined, deps: FoldDeps): TemperatureCheck[] {
  const { intake, runs } = carriage;
  const assignment = assignmentOf(intake, run.epoch);
  const temperatures = temperaturesOf(carriage, { id: entry?.id ?? null, begin: run, assignment }, deps);
  return checksOf(temperatures, assignment, revisionOf(runs, intake.timeline, run.epoch, deps), deps);
}

function isFollowed(before: FollowedRun | undefined, now: Omit<FollowedRun, 'conditions'>): boolean {
  return before?.refolds === now.refolds && before.revision === now.revision && before.over === now.over && before.open === now.open;
}

function stands({ atHand }: AlarmBook, entry: RunEntry): boolean {
  return atHand.some((alarm) => alarm.run === entry.id && isLasting(alarm));
}

function isLasting(alarm: AlarmFacts): boolean {
  return alarm.returnedAt === null && alarm.withdrawn === null;
}

function newAlarm(carriage: Carriage, entry: RunEntry, run: RunState, condition: AlarmCondition, deps: FoldDeps): AlarmFacts {
  const { arc, quantity, limit, worst, from, raised } = condition;
  const { windows, offsets } = run.sums.parameters;
  const { priority, response, responses } = windows?.alarms?.[quantity] ?? {};
  const assignment = assignmentOf(carriage.intake, run.epoch);
  return {
    id: newAlarmId(), run: entry.id, seam: assignment?.seam ?? null, runNumber: assignment?.run ?? null, arc, quantity, limit, worst,
    priority: priority ?? priorityOf(quantity),
    response: response ?? null,
    ...(responses === undefined ? {} : { responses }),
    since: from.time, raisedAt: raised.time, recordedAt: deps.now(),
    ...seamPlace(assignment, from.travelled, offsets[arc ?? 1]),
    ...untouched,
  };
}

import { untouched, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { seamPlace } from '../../../shared/weld/procedure/seam-place.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { saveAlarm, newAlarmId } from './save-alarm.js';
import type { Carriage } from '../fold/carriage.js';
import type { AlarmBook } from '../fold/alarm-book.js';
import { assignmentOf, type Intake } from '../fold/intake.js';
import { entryOf } from '../fold/run-book.js';

/** How long an arc that was on may send nothing before an alarm is raised, µs of arrival time; common practice, no source. */
const silentFor = 5_000_000;

interface Silence {
  /** Null if the whole carriage is silent. */
  readonly arc: number | null;
  /** Arrival of the last item, µs. */
  readonly since: number;
}

/** Raises `noData` when items stop under a burning arc, and clears it with the next item. */
export function raiseSilenceAlarm(carriage: Carriage, deps: FoldDeps): void {
  const silent = silences(carriage, deps);
  const { alarms } = carriage;
  if (silent.length === 0 && alarms.atHand.length === 0) return;
  for (const alarm of standing(alarms)) {
    const heard = heardAgain(carriage, alarm);
    if (heard === null) continue;
    const lasted = (heard - (alarms.silences.get(alarm.id) ?? alarm.since)) / 1e6;
    alarms.silences.delete(alarm.id);
    saveAlarm(carriage, { ...alarm, worst: Math.max(lasted, alarm.worst ?? 0), returnedAt: heard }, deps);
  }
  for (const own of silent) {
    if (isTold(alarms, own)) continue;
    const alarm = newSilence(carriage, own, deps);
    alarms.silences.set(alarm.id, own.since);
    saveAlarm(carriage, alarm, deps);
  }
}

/** When the next silence is to be raised if nothing comes, µs of arrival; `Infinity` if there is none. */
export function silenceDueAt(carriage: Carriage, deps: FoldDeps): number {
  return Math.min(Infinity, ...mayBeSilent(carriage, deps).flatMap((own) => (isTold(carriage.alarms, own) ? [] : [silentAt(own, deps)])));
}

/** When items came again, µs of arrival; null while none have. A silence from before the start of the service ended if any item came since. */
function heardAgain({ intake, alarms }: Carriage, alarm: AlarmFacts): number | null {
  const ofAny = intake.heard.size > 0 ? intake.lastSeen : null;
  const heard = alarm.arc === null ? ofAny : (intake.heard.get(alarm.arc) ?? null);
  const since = alarms.silences.get(alarm.id);
  return heard !== null && (since === undefined || heard > since) ? heard : null;
}

function standing({ atHand }: AlarmBook): AlarmFacts[] {
  return atHand.filter((alarm) => alarm.quantity === 'noData' && alarm.returnedAt === null);
}

function isTold(alarms: AlarmBook, { arc }: Silence): boolean {
  return standing(alarms).some((alarm) => alarm.arc === arc || alarm.arc === null);
}

/** What has been silent for too long: the whole carriage, or else some of its arcs. */
function silences(carriage: Carriage, deps: FoldDeps): Silence[] {
  const silent = mayBeSilent(carriage, deps).filter((own) => deps.now() >= silentAt(own, deps));
  return silent[0]?.arc === null ? silent.slice(0, 1) : silent;
}

/** When a silence becomes an alarm, µs of arrival. It counts only from when the service itself could receive. */
function silentAt({ since }: Silence, deps: FoldDeps): number {
  return Math.max(since, deps.listeningSince()) + silentFor;
}

/** The carriage and its burning arcs, each with the time since which nothing has come from it. */
function mayBeSilent({ kind, intake, fold }: Carriage, deps: FoldDeps): Silence[] {
  const { merge, arcs } = fold.live.head;
  const { lastSeen } = intake;
  if (kind === 'log' || merge.run === null || lastSeen === null) return [];
  const on = arcs.flatMap((own) => (own.on ? [{ arc: own.arc, since: lastHeard(intake, own.arc, deps) }] : []));
  return on.length === 0 ? [] : [{ arc: null, since: lastSeen }, ...on];
}

/** Arrival of the newest item of an arc, µs. A time read from the store may come from a clock that ran ahead. */
function lastHeard(intake: Intake, arc: number, deps: FoldDeps): number {
  const heard = intake.heard.get(arc) ?? intake.newestOfArc.get(arc)?.arrived ?? Infinity;
  return heard === Infinity || heard <= deps.now() ? heard : deps.listeningSince();
}

function newSilence({ intake, fold, runs }: Carriage, { arc, since }: Silence, deps: FoldDeps): AlarmFacts {
  const { run } = fold.live.head.merge;
  const entry = entryOf(runs, run);
  const assignment = run === null ? null : assignmentOf(intake, run.epoch);
  const travelled = run?.sums.travelled ?? null;
  return {
    id: newAlarmId(), run: entry?.id ?? null, seam: assignment?.seam ?? null, runNumber: assignment?.run ?? null, arc, quantity: 'noData', limit: silentFor / 1e6, worst: silentFor / 1e6,
    priority: 'high', response: null, since, raisedAt: since + silentFor, recordedAt: deps.now(),
    ...seamPlace(assignment, travelled),
    ...untouched,
  };
}

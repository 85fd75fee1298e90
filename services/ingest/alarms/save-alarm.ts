import { randomBytes } from 'node:crypto';
import { alarmState, isOver, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { alarmAnswer } from './alarm-answer.js';
import { isLocked, type FoldDeps } from '../fold/fold-deps.js';
import type { SavedAlarm } from '../../../shared/records/change-set.js';
import { recordSum } from '../../../shared/records/record-sum.js';
import { putAlarm } from '../fold/alarm-book.js';
import { forgetStored } from '../fold/stored-alarms.js';
import type { Carriage } from '../fold/carriage.js';
import { noteAlarms } from '../fold/outbox.js';
import { entryOf } from '../fold/run-book.js';

export function newAlarmId(): string {
  return randomBytes(9).toString('base64url');
}

/** An alarm in the form in which it is stored; `of` is null for an alarm of the service itself. */
export function savedAlarm(alarm: AlarmFacts, of: Pick<Carriage, 'id' | 'site' | 'carriage'> | null, now: number): SavedAlarm {
  const record = JSON.stringify(alarmAnswer(alarm, of, now));
  return {
    id: alarm.id, stream_id: of?.id ?? null, run_id: alarm.run, site: of?.site ?? null, carriage: of?.carriage ?? null,
    state: alarmState(alarm, now), recorded: alarm.recordedAt, priority: alarm.priority, seam: alarm.seam, over: isOver(alarm) ? 1 : 0,
    facts: JSON.stringify(alarm), record, record_sum: recordSum(record),
  };
}

/** Queues a new or changed alarm to be stored, and publishes it. */
export function saveAlarm(carriage: Carriage, given: AlarmFacts, deps: FoldDeps): void {
  const { alarms, outbox } = carriage;
  const now = deps.now();
  const known = alarms.atHand.find((own) => own.id === given.id);
  const alarm = { ...given, clearedRecordedAt: clearedAt(known, given, now) };
  const saved = savedAlarm(alarm, carriage, now);
  putAlarm(alarms, alarm, saved.state);
  noteAlarms(outbox);
  deps.changes.alarms.push(saved);
  deps.emit('alarm', saved.record);
}

/** When the alarm was known to be over, by the service's clock; alarms of earlier versions have no such time. */
function clearedAt(before: AlarmFacts | undefined, alarm: AlarmFacts, now: number): number | null {
  if (!isOver(alarm)) return null;
  const ends = before === undefined ? alarm.recordedAt !== null : !isOver(before);
  return alarm.clearedRecordedAt ?? (ends ? now : null);
}

/** Ends the shelving of alarms whose time is up. */
export function endShelving(carriage: Carriage, deps: FoldDeps): void {
  const now = deps.now();
  for (const alarm of carriage.alarms.atHand) {
    if (shelvingEnds(alarm, now)) saveAlarm(carriage, { ...alarm, shelvedUntil: null }, deps);
  }
}

export function shelvingEnds(alarm: AlarmFacts, now: number): boolean {
  return alarm.shelvedUntil !== null && now >= alarm.shelvedUntil;
}

/** Drops alarms that are over from memory once their run cannot continue and they are not shelved: perhaps nobody will ever acknowledge them. */
export function forgetOver({ fold, runs, alarms }: Carriage, deps: FoldDeps): void {
  const { run, resumable } = fold.live.head.merge;
  const open = new Set([run, resumable].flatMap((own) => entryOf(runs, own)?.id ?? []));
  const now = deps.now();
  const mayGoOn = new Set([...runs.entries.values()].flatMap((entry) => (isLocked(entry, deps) ? [] : [entry.id])));
  const { ofRuns } = alarms.stored;
  for (const id of ofRuns.keys()) if (!mayGoOn.has(id)) ofRuns.delete(id);
  alarms.atHand = alarms.atHand.filter((alarm) => {
    if (!isOver(alarm) || alarmState(alarm, now) === 'shelved' || (alarm.run !== null && open.has(alarm.run))) return true;
    if (alarm.run !== null && mayGoOn.has(alarm.run)) ofRuns.set(alarm.run, [...(ofRuns.get(alarm.run) ?? []).filter(({ id }) => id !== alarm.id), alarm]);
    return false;
  });
  for (const id of alarms.followed.keys()) if (!open.has(id)) alarms.followed.delete(id);
  forgetStored(alarms.stored, alarms.atHand);
}

import { randomBytes } from 'node:crypto';
import { alarmState } from '../../shared/weld/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import { alarmAnswer } from './alarm-answer.js';
import type { FoldDeps } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

export function newAlarmId(): string {
  return randomBytes(9).toString('base64url');
}

/** The alarms of a carriage that stand: all that are not back to normal, the newest first. */
export function standingAlarms(stream: StreamState, now: number): Record<string, unknown>[] {
  return stream.alarms.filter((alarm) => alarmState(alarm, now) !== 'normal').map((alarm) => alarmAnswer(alarm, stream, now)).reverse();
}

/** Keeps an alarm that is new or has changed, and tells it. Part of the transaction at hand. */
export function keepAlarm(stream: StreamState, alarm: AlarmFacts, deps: FoldDeps): void {
  const at = stream.alarms.findIndex((own) => own.id === alarm.id);
  if (at === -1) stream.alarms.push(alarm);
  else stream.alarms[at] = alarm;
  const now = deps.now();
  const record = JSON.stringify(alarmAnswer(alarm, stream, now));
  deps.statements.saveAlarm.run({
    id: alarm.id, stream_id: stream.id, run_id: alarm.run, site: stream.site, carriage: stream.carriage,
    state: alarmState(alarm, now), facts: JSON.stringify(alarm), record,
  });
  deps.emit('alarm', record);
  stream.alarmsChanged = true;
  // Whoever looks at the carriage wants to see it at once.
  stream.unflushed = true;
  stream.toldAt = 0;
}

/** Shelving ends by itself. */
export function endShelving(stream: StreamState, deps: FoldDeps): void {
  const now = deps.now();
  for (const alarm of stream.alarms) {
    if (shelvingEnds(alarm, now)) keepAlarm(stream, { ...alarm, shelvedUntil: null }, deps);
  }
}

export function shelvingEnds(alarm: AlarmFacts, now: number): boolean {
  return alarm.shelvedUntil !== null && now >= alarm.shelvedUntil;
}

/** What lasted and is over stays at hand only as long as its run may go on. */
export function forgetNormal(stream: StreamState, deps: FoldDeps): void {
  const { run, resumable } = stream.live.head.merge;
  const open = new Set([run, resumable].flatMap((own) => (own === null ? [] : [stream.runs.get(own.ordinal)?.id])));
  const now = deps.now();
  stream.alarms = stream.alarms.filter((alarm) => alarmState(alarm, now) !== 'normal' || (alarm.run !== null && open.has(alarm.run)));
  for (const id of stream.followed.keys()) if (!open.has(id)) stream.followed.delete(id);
}

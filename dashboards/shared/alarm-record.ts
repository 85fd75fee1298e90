import type { Alarm } from '../../shared/api-types/alarm.js';

/** When the service heard of the alarm, by its own clock; by the carriage's if nothing better was stored. */
export function arrivedAt(alarm: Alarm): string {
  return alarm.recordedAt ?? alarm.raisedAt;
}

/** When the service heard that it is over, by the same clock as `arrivedAt`; null while it lasts. */
export function clearedAt(alarm: Alarm): string | null {
  if (alarm.returnedAt === null) return null;
  return alarm.recordedAt === null ? alarm.returnedAt : alarm.clearedRecordedAt;
}

/** Newest arrival first. */
export function byArrival(a: Alarm, b: Alarm): number {
  const [first, second] = [arrivedAt(a), arrivedAt(b)];
  return first < second ? 1 : first > second ? -1 : 0;
}

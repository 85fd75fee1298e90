import type { Alarm } from '../../shared/api-types/alarm.js';
import { alarmStands } from './alarm-sentence.js';

const conditions: readonly string[] = ['noData', 'travelStopped', 'polarity', 'overlap', 'storage', 'broker'];
const priorities: Readonly<Record<Alarm['priority'], number>> = { high: 0, medium: 1, low: 2 };

/** Whether a value left a window, as against a condition such as a carriage that stands still. */
export function ofWindow({ quantity }: Pick<Alarm, 'quantity'>): boolean {
  return !conditions.includes(quantity);
}

/** What asks for attention: everything but what was shelved, is suppressed, or is over and acknowledged. */
export function asksAttention({ state }: Pick<Alarm, 'state'>): boolean {
  return state === 'unacknowledged' || state === 'acknowledged' || state === 'returned';
}

/**
 * How urgent an alarm is, 0 the most: what lasts and nobody has acknowledged by its priority (0 to 2), what lasts and
 * somebody has (3 to 5), what is over and nobody has (6 to 8), what was shelved or is suppressed (9).
 */
export function urgency({ state, priority }: Pick<Alarm, 'state' | 'priority'>): number {
  if (state === 'unacknowledged') return priorities[priority];
  if (state === 'acknowledged') return 3 + priorities[priority];
  if (state === 'returned') return 6 + priorities[priority];
  return 9;
}

/** The alarms that ask for attention, the most urgent first, of equal ones the newest first. */
export function attentionAlarms(alarms: readonly Alarm[]): readonly Alarm[] {
  return alarms.filter(asksAttention).sort((a, b) => urgency(a) - urgency(b) || (a.raisedAt < b.raisedAt ? 1 : a.raisedAt > b.raisedAt ? -1 : 0));
}

/** Everything that is wrong now, shelved or not, the most urgent first: shelving quiets an alarm, it mends nothing. */
export function lastingAlarms(alarms: readonly Alarm[]): readonly Alarm[] {
  return alarms.filter(alarmStands).sort((a, b) => urgency(a) - urgency(b) || (a.raisedAt < b.raisedAt ? 1 : a.raisedAt > b.raisedAt ? -1 : 0));
}

import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { isLasting, conditions } from './alarm-sentence.js';

const priorities: Readonly<Record<Alarm['priority'], number>> = { high: 0, medium: 1, low: 2 };

/** How many alarms of a kind a carriage has, and those of them that came with it: the most urgent ten of all. */
export interface CountedAlarms { readonly alarms: readonly Alarm[]; readonly count: number }

type Alarmed = Pick<Carriage, 'alarms' | 'alarmCounts' | 'run'>;

/** Whether a value left its limits, as opposed to a condition such as a stopped carriage. */
export function isOfLimits({ quantity }: Pick<Alarm, 'quantity'>): boolean {
  return !(conditions as readonly string[]).includes(quantity);
}

/** Whether it is wrong now and meant to be seen: not cleared, not shelved, not suppressed. */
export function isActive({ state }: Pick<Alarm, 'state'>): boolean {
  return state === 'unacknowledged' || state === 'acknowledged';
}

/**
 * How urgent an alarm is, 0 the most: active and unacknowledged by its priority (0 to 2), active and
 * acknowledged (3 to 5), cleared and unacknowledged (6 to 8), shelved or suppressed (9).
 */
export function urgency({ state, priority }: Pick<Alarm, 'state' | 'priority'>): number {
  if (state === 'unacknowledged') return priorities[priority];
  if (state === 'acknowledged') return 3 + priorities[priority];
  if (state === 'returned') return 6 + priorities[priority];
  return 9;
}

/** The most urgent first; among equals the one that arrived last. */
export function byUrgency(a: Alarm, b: Alarm): number {
  return urgency(a) - urgency(b) || byArrival(a, b);
}

/** The active alarms of a carriage, the most urgent first: the only ones that may ask anyone to do something. */
export function activeAlarms({ alarms }: Pick<Carriage, 'alarms'>): readonly Alarm[] {
  return alarms.filter(isActive).sort(byUrgency);
}

/** How many alarms of a carriage are active, whether or not they came with it. */
export function activeCount(carriage: Alarmed): number {
  return Math.max(carriage.alarmCounts.active, activeAlarms(carriage).length);
}

/** Cleared, unacknowledged alarms of the run that the carriage is welding, the newest first. */
export function clearedOfRun(carriage: Alarmed): CountedAlarms {
  const alarms = cleared(carriage).filter(({ run }) => run !== null && run === carriage.run);
  return { alarms, count: Math.max(carriage.alarmCounts.clearedOfRun, alarms.length) };
}

/** Cleared, unacknowledged alarms of other runs, the newest first. They are history and never give an instruction. */
export function clearedElsewhere(carriage: Alarmed): CountedAlarms {
  const all = cleared(carriage);
  const alarms = all.filter(({ run }) => run === null || run !== carriage.run);
  return { alarms, count: Math.max(carriage.alarmCounts.cleared, all.length) - clearedOfRun(carriage).count };
}

/** Shelved alarms, the newest first. */
export function shelvedAlarms(carriage: Alarmed): CountedAlarms {
  const alarms = carriage.alarms.filter(({ state }) => state === 'shelved').sort(byArrival);
  return { alarms, count: Math.max(carriage.alarmCounts.shelved, alarms.length) };
}

/** Everything that is wrong now, shelved or not, the most urgent first: shelving quiets an alarm but fixes nothing. */
export function lastingAlarms(alarms: readonly Alarm[]): readonly Alarm[] {
  return alarms.filter(isLasting).sort(byUrgency);
}

function cleared({ alarms }: Pick<Carriage, 'alarms'>): Alarm[] {
  return alarms.filter(({ state }) => state === 'returned').sort(byArrival);
}

/** When the service heard of the alarm, by its own clock; by the carriage's if nothing better was stored. */
export function arrivedAt(alarm: Alarm): string {
  return alarm.recordedAt ?? alarm.raisedAt;
}

/** Newest arrival first. */
export function byArrival(a: Alarm, b: Alarm): number {
  const [first, second] = [arrivedAt(a), arrivedAt(b)];
  return first < second ? 1 : first > second ? -1 : 0;
}

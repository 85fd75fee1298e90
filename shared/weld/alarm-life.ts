import type { AlarmCondition } from './alarm-conditions.js';
import type { ActionTexts } from './run-windows.js';

export type AlarmPriority = 'high' | 'medium' | 'low';
export type AlarmState = 'unacknowledged' | 'acknowledged' | 'returned' | 'shelved' | 'suppressed' | 'normal';

/** One alarm as it is kept. Times µs: those of the run by its corrected time, those of people by the clock. Places mm. */
export interface AlarmFacts {
  readonly id: string;
  readonly run: string | null;
  /** Seam and run number as assigned when it was raised. */
  readonly seam: string | null;
  readonly runNumber: number | null;
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number | null;
  readonly worst: number | null;
  readonly priority: AlarmPriority;
  readonly response: string | null;
  /** The response in further languages; absent where the procedure gives none. */
  readonly responses?: ActionTexts | undefined;
  readonly since: number;
  readonly raisedAt: number;
  /** By the service's clock: when it was raised, and when it was known to be over. Null for alarms from before these were kept. */
  readonly recordedAt: number | null;
  readonly clearedRecordedAt: number | null;
  readonly travelled: number | null;
  readonly seamPosition: number | null;
  readonly returnedAt: number | null;
  readonly suppressed: boolean;
  /** Why it was withdrawn, in words. */
  readonly withdrawn: string | null;
  readonly acknowledgedAt: number | null;
  readonly acknowledgedBy: string | null;
  readonly note: string | null;
  readonly shelvedUntil: number | null;
  readonly shelvedBy: string | null;
  readonly shelvedReason: string | null;
}

/** What an alarm is when it is raised: it lasts, and nobody has done anything about it. */
export const untouched = {
  clearedRecordedAt: null, returnedAt: null, suppressed: false, withdrawn: null,
  acknowledgedAt: null, acknowledgedBy: null, note: null,
  shelvedUntil: null, shelvedBy: null, shelvedReason: null,
} as const;

const withdrawnReasons = {
  crater: 'it lay in the crater: the arc went out within the time that the procedure excludes before an end',
  unpassed: 'an arc was lit later that had not passed there: heat input is judged only where every arc of the run has passed',
} as const;

/** Whether what raised it has ended, or never was. */
export function isOver(alarm: AlarmFacts): boolean {
  return alarm.returnedAt !== null || alarm.withdrawn !== null;
}

/** The state at a time of the clock, µs (terms of IEC 62682). */
export function alarmState(alarm: AlarmFacts, now: number): AlarmState {
  if (alarm.shelvedUntil !== null && now < alarm.shelvedUntil) return 'shelved';
  if (alarm.withdrawn !== null) return 'normal';
  if (alarm.suppressed) return alarm.returnedAt === null ? 'suppressed' : 'normal';
  if (alarm.returnedAt === null) return alarm.acknowledgedAt === null ? 'unacknowledged' : 'acknowledged';
  return alarm.acknowledgedAt === null ? 'returned' : 'normal';
}

/** The first acknowledgement stands; a note can follow it. */
export function acknowledgeAlarm(alarm: AlarmFacts, by: string, note: string | null, now: number): AlarmFacts {
  const noted = note === null ? alarm : { ...alarm, note };
  return alarm.acknowledgedAt === null ? { ...noted, acknowledgedAt: now, acknowledgedBy: by } : noted;
}

export function shelveAlarm(alarm: AlarmFacts, by: string, reason: string, until: number): AlarmFacts {
  return { ...alarm, shelvedUntil: until, shelvedBy: by, shelvedReason: reason };
}

/** Ends a shelving before its time; who had shelved it, and why, stays. */
export function unshelveAlarm(alarm: AlarmFacts): AlarmFacts {
  return { ...alarm, shelvedUntil: null };
}

/** What an alarm adds to its condition when it is raised. */
export type NewAlarm = (condition: AlarmCondition) => AlarmFacts;

/**
 * Brings the alarms of one run in line with its conditions. An alarm that stands for a condition follows it; a
 * condition that none stands for raises one, where `raise` is given. Returns the alarms that changed or are new.
 */
export function followConditions(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], newest: number, raise: NewAlarm | null): AlarmFacts[] {
  const changed: AlarmFacts[] = [];
  const free = new Set(conditions);
  for (const alarm of alarms) {
    const own = conditionsOf(alarm, conditions);
    for (const condition of own) free.delete(condition);
    const next = followed(alarm, own, newest);
    if (!same(alarm, next)) changed.push(next);
  }
  if (raise === null) return changed;
  for (const condition of conditions) {
    if (!free.has(condition)) continue;
    changed.push(followed(raise(condition), [condition], newest));
  }
  return changed;
}

/** The conditions that an alarm stands for: the one it was raised by, and what late items have made of its stretch. */
function conditionsOf(alarm: AlarmFacts, conditions: readonly AlarmCondition[]): AlarmCondition[] {
  const alike = conditions.filter(({ quantity, arc, limit }) => alarm.quantity === quantity && alarm.arc === arc && alarm.limit === limit);
  const exact = alike.find(({ from }) => from.time === alarm.since);
  const end = alarm.returnedAt ?? exact?.to?.time ?? Infinity;
  // Restarts are moments of their own, though what each left unwelded stands to the end of the run.
  if (alarm.quantity === 'overlap') return exact === undefined ? [] : [exact];
  return alike.filter((condition) => condition === exact || (condition.from.time < end && alarm.since < (condition.to?.time ?? Infinity)));
}

function followed(alarm: AlarmFacts, own: readonly AlarmCondition[], newest: number): AlarmFacts {
  const last = own.at(-1);
  // Late items have shown that there was nothing; that it was raised stays a fact.
  if (last === undefined) return alarm.returnedAt === null && alarm.withdrawn === null ? { ...alarm, returnedAt: newest } : alarm;
  const open = own.find((condition) => condition.to === null && condition.withdrawn === false) ?? null;
  const decisive = open ?? own.findLast((condition) => condition.withdrawn === false) ?? last;
  return {
    ...alarm,
    worst: decisive.worst,
    returnedAt: decisive.to === null ? null : decisive.to.time,
    withdrawn: decisive.withdrawn === false ? null : withdrawnReasons[decisive.withdrawn],
    suppressed: decisive.suppressed,
  };
}

function same(a: AlarmFacts, b: AlarmFacts): boolean {
  return a.worst === b.worst && a.returnedAt === b.returnedAt && a.withdrawn === b.withdrawn && a.suppressed === b.suppressed;
}

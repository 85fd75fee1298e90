import type { ActionTexts } from '../procedure/run-windows.js';

export type AlarmPriority = 'high' | 'medium' | 'low';
/**
 * Why an alarm was withdrawn: what was outside lay in the crater; an arc was lit later that had not passed there, so that heat input is not judged
 * there; late items show that there was no excursion; or another temperature of the plate counts.
 */
export const withdrawnCodes = ['crater', 'unpassed', 'revised', 'remeasured'] as const;
export type WithdrawnCode = (typeof withdrawnCodes)[number];
export type AlarmState = 'unacknowledged' | 'acknowledged' | 'returned' | 'shelved' | 'suppressed' | 'normal';

/** One alarm as it is stored. Times in µs: those of the run in its corrected time, those of people by the clock. Places in mm. */
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
  /** The response in other languages; absent where the procedure gives none. */
  readonly responses?: ActionTexts | undefined;
  readonly since: number;
  readonly raisedAt: number;
  /** When it was raised, and when it was known to be over, by the service's clock. Null for alarms from before these were stored. */
  readonly recordedAt: number | null;
  readonly clearedRecordedAt: number | null;
  readonly travelled: number | null;
  readonly seamPosition: number | null;
  /** The same places in degrees of a circumferential seam; null where it is none, absent in alarms from before these were stored. */
  readonly degrees?: number | null | undefined;
  readonly seamDegrees?: number | null | undefined;
  readonly returnedAt: number | null;
  readonly suppressed: boolean;
  /** Why it was withdrawn, in words, and as a code; alarms from before there were codes have none. */
  readonly withdrawn: string | null;
  readonly withdrawnCode?: WithdrawnCode | null | undefined;
  readonly acknowledgedAt: number | null;
  readonly acknowledgedBy: string | null;
  readonly note: string | null;
  readonly shelvedUntil: number | null;
  readonly shelvedBy: string | null;
  readonly shelvedReason: string | null;
}

/** The state of an alarm when it is raised: it lasts, and nobody has done anything about it. */
export const untouched = {
  clearedRecordedAt: null, returnedAt: null, suppressed: false, withdrawn: null, withdrawnCode: null,
  acknowledgedAt: null, acknowledgedBy: null, note: null,
  shelvedUntil: null, shelvedBy: null, shelvedReason: null,
} as const;

/** Whether the condition that raised it has ended, or never existed. */
export function isOver(alarm: AlarmFacts): boolean {
  return alarm.returnedAt !== null || alarm.withdrawn !== null;
}

/** The state of an alarm at a time of the clock, µs (terms of IEC 62682). */
export function alarmState(alarm: AlarmFacts, now: number): AlarmState {
  if (alarm.shelvedUntil !== null && now < alarm.shelvedUntil) return 'shelved';
  if (alarm.withdrawn !== null) return 'normal';
  if (alarm.suppressed) return alarm.returnedAt === null ? 'suppressed' : 'normal';
  if (alarm.returnedAt === null) return alarm.acknowledgedAt === null ? 'unacknowledged' : 'acknowledged';
  return alarm.acknowledgedAt === null ? 'returned' : 'normal';
}

/** Acknowledges an alarm. The first acknowledgement is kept; a note can be added to it later. */
export function acknowledgeAlarm(alarm: AlarmFacts, by: string, note: string | null, now: number): AlarmFacts {
  const noted = note === null ? alarm : { ...alarm, note };
  return alarm.acknowledgedAt === null ? { ...noted, acknowledgedAt: now, acknowledgedBy: by } : noted;
}

export function shelveAlarm(alarm: AlarmFacts, by: string, reason: string, until: number): AlarmFacts {
  return { ...alarm, shelvedUntil: until, shelvedBy: by, shelvedReason: reason };
}

/** Ends a shelving early; who shelved the alarm, and why, is kept. */
export function unshelveAlarm(alarm: AlarmFacts): AlarmFacts {
  return { ...alarm, shelvedUntil: null };
}

import type { AlarmCondition } from '../../../shared/weld/run/alarm-conditions.js';
import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { noteStored, startStoredAlarms, type StoredAlarms } from './stored-alarms.js';

export interface AlarmCounts {
  /** Alarms that are not over, shelved or suppressed; `unacknowledged` counts those of them that nobody has acknowledged. */
  readonly active: number;
  readonly unacknowledged: number;
  /** Alarms that are over and not yet acknowledged; `clearedOfRun` counts those of the run that is being welded. */
  readonly cleared: number;
  readonly clearedOfRun: number;
  readonly shelved: number;
  readonly suppressed: number;
}

export interface CarriageAlarms {
  readonly items: readonly Record<string, unknown>[];
  readonly counts: AlarmCounts;
}

/** The state to which the alarms of a run were last brought up to date; they are updated again when any part of it differs. */
export interface FollowedRun {
  /** How often the newest items had been folded again by then, and the revision of the run's conditions. */
  readonly refolds: number;
  readonly revision: number;
  readonly over: boolean;
  /** The run was not finished. */
  readonly open: boolean;
  readonly conditions: readonly AlarmCondition[];
}

/** The alarms of a carriage. */
export interface AlarmBook {
  /** The alarms in memory: those that are not over or are shelved, and those of runs that may still change. Of all others only the number is kept. */
  atHand: AlarmFacts[];
  /** What else is known of stored alarms. */
  readonly stored: StoredAlarms;
  /** How many alarms are over and not acknowledged. */
  cleared: number;
  /** The alarms as they were last published; null if they have changed since. */
  shown: { readonly run: string | null; readonly alarms: CarriageAlarms } | null;
  /** By the id of a run, the state to which its alarms were last brought up to date. */
  readonly followed: Map<string, FollowedRun>;
  /** For each `noData` alarm raised since the carriage was loaded, the arrival of the last item before it, µs. */
  readonly silences: Map<string, number>;
}

export function startAlarmBook(): AlarmBook {
  return { atHand: [], stored: startStoredAlarms(), cleared: 0, shown: null, followed: new Map(), silences: new Map() };
}

/** Puts an alarm, stored in that state, among those in memory, in place of its earlier version. */
export function putAlarm(alarms: AlarmBook, alarm: AlarmFacts, state: string): void {
  const at = alarms.atHand.findIndex((own) => own.id === alarm.id);
  if (at === -1) alarms.atHand.push(alarm);
  else alarms.atHand[at] = alarm;
  const before = noteStored(alarms.stored, alarm, state);
  alarms.cleared += Number(state === 'returned') - Number(before === 'returned');
  alarms.shown = null;
}

/** Brings the alarms of a run back into memory when it continues after it had ended, or after a restart of the service. */
export function recallAlarms({ atHand, stored }: AlarmBook, run: string): void {
  const known = new Set(atHand.map((alarm) => alarm.id));
  for (const alarm of stored.ofRuns.get(run) ?? []) if (!known.has(alarm.id)) atHand.push(alarm);
  stored.ofRuns.delete(run);
}

/** Moves the arrival times at which raised silences began, after the wall clock was set by `step` µs. */
export function shiftSilences({ atHand, silences }: AlarmBook, step: number): void {
  for (const alarm of atHand) {
    if (alarm.quantity === 'noData' && alarm.returnedAt === null) silences.set(alarm.id, silences.get(alarm.id) ?? alarm.since);
  }
  for (const [id, since] of silences) silences.set(id, since + step);
}

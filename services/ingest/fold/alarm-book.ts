import type { AlarmCondition } from '../../../shared/weld/run/alarm-conditions.js';
import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { noteStored, startStoredAlarms, type StoredAlarms } from './stored-alarms.js';

export interface AlarmCounts {
  /** Not over, not shelved and not suppressed; `unacknowledged` are those of them that nobody has acknowledged. */
  readonly active: number;
  readonly unacknowledged: number;
  /** Over, and not acknowledged yet; `clearedOfRun` are those of the run that is being welded. */
  readonly cleared: number;
  readonly clearedOfRun: number;
  readonly shelved: number;
  readonly suppressed: number;
}

export interface CarriageAlarms {
  readonly items: readonly Record<string, unknown>[];
  readonly counts: AlarmCounts;
}

/** What the alarms of a run were brought in line with last; they are again where any of it is another. */
export interface FollowedRun {
  /** How often the newest items were folded again by then, and the revision of the run's conditions. */
  readonly refolds: number;
  readonly revision: number;
  readonly over: boolean;
  /** It was not finished. */
  readonly open: boolean;
  readonly conditions: readonly AlarmCondition[];
}

/** The alarms of a carriage. */
export interface AlarmBook {
  /** Those that are not over or shelved, and those of the runs at hand. Of all others only their number is held. */
  atHand: AlarmFacts[];
  /** What else is known of alarms as they are stored. */
  readonly stored: StoredAlarms;
  /** How many are over and not acknowledged. */
  cleared: number;
  /** What is told of them; null where they have changed since. */
  shown: { readonly run: string | null; readonly alarms: CarriageAlarms } | null;
  /** Runs whose alarms are among these; none where nothing was raised for them. */
  readonly followed: Map<string, FollowedRun>;
  /** Of each `noData` alarm raised since the carriage is in memory the arrival of the last item before it, µs. */
  readonly silences: Map<string, number>;
}

export function startAlarmBook(): AlarmBook {
  return { atHand: [], stored: startStoredAlarms(), cleared: 0, shown: null, followed: new Map(), silences: new Map() };
}

/** Puts an alarm, which is stored in that state, among those at hand, in place of what it was before. */
export function putAlarm(alarms: AlarmBook, alarm: AlarmFacts, state: string): void {
  const at = alarms.atHand.findIndex((own) => own.id === alarm.id);
  if (at === -1) alarms.atHand.push(alarm);
  else alarms.atHand[at] = alarm;
  const before = noteStored(alarms.stored, alarm, state);
  alarms.cleared += Number(state === 'returned') - Number(before === 'returned');
  alarms.shown = null;
}

/** Has those of a run at hand that goes on after it had ended, or after a restart of the service. */
export function recallAlarms({ atHand, stored }: AlarmBook, run: string): void {
  const known = new Set(atHand.map((alarm) => alarm.id));
  for (const alarm of stored.ofRuns.get(run) ?? []) if (!known.has(alarm.id)) atHand.push(alarm);
  stored.ofRuns.delete(run);
}

/** Silences that are told go on from the time of arrival that they began at, which moves when the wall clock is set by `step` µs. */
export function shiftSilences({ atHand, silences }: AlarmBook, step: number): void {
  for (const alarm of atHand) {
    if (alarm.quantity === 'noData' && alarm.returnedAt === null) silences.set(alarm.id, silences.get(alarm.id) ?? alarm.since);
  }
  for (const [id, since] of silences) silences.set(id, since + step);
}

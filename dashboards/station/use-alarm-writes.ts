import { useSignal } from '@preact/signals';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { acknowledgeAlarm, acknowledgeAlarms, shelveAlarm, unshelveAlarm, type AcknowledgedTogether, type Answer } from '../shared/api.js';
import { storeAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';

export interface AlarmWrites {
  /** Each returns the alarm as the service then has it, or null if the write failed. */
  readonly acknowledge: (alarm: Alarm) => Promise<Alarm | null>;
  readonly note: (alarm: Alarm, note: string) => Promise<Alarm | null>;
  /** `length` is ms. */
  readonly shelve: (alarm: Alarm, length: number, reason: string) => Promise<Alarm | null>;
  readonly unshelve: (alarm: Alarm) => Promise<Alarm | null>;
  /** How many were acknowledged, or null if the write failed. */
  readonly acknowledgeTogether: (which: Omit<AcknowledgedTogether, 'by'>) => Promise<number | null>;
  /** Why the last one failed. */
  readonly failure: string | null;
}

/** Writes to alarms, signed by the person at the carriage; the service's answer is shown at once. */
export function useAlarmWrites(by: string): AlarmWrites {
  const failure = useSignal<string | null>(null);
  const heard = async <T>(answer: Promise<Answer<T>>): Promise<T | null> => {
    const given = await answer;
    failure.value = given.ok ? null : given.failure.reason;
    return given.ok ? given.value : null;
  };
  const taken = async (answer: Promise<Answer<Alarm>>): Promise<Alarm | null> => {
    const given = await heard(answer);
    if (given !== null) storeAlarm(given);
    return given;
  };
  return {
    acknowledge: async ({ id }) => await taken(acknowledgeAlarm(id, { by })),
    note: async ({ id }, note) => await taken(acknowledgeAlarm(id, { by, note })),
    shelve: async ({ id }, length, reason) => await taken(shelveAlarm(id, { until: Math.round(serverNow.peek() + length), reason, by })),
    unshelve: async ({ id }) => await taken(unshelveAlarm(id, by)),
    acknowledgeTogether: async (which) => (await heard(acknowledgeAlarms({ ...which, by })))?.acknowledged ?? null,
    failure: failure.value,
  };
}

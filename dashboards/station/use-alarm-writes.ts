import { useSignal } from '@preact/signals';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { acknowledgeAlarm, shelveAlarm } from '../shared/api.js';
import type { Answer } from '../shared/api.js';
import { takeAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';

export interface AlarmWrites {
  /** Each gives back the alarm as the service took it, or null where it did not. */
  readonly acknowledge: (alarm: Alarm) => Promise<Alarm | null>;
  readonly note: (alarm: Alarm, note: string) => Promise<Alarm | null>;
  /** `length` is ms. */
  readonly shelve: (alarm: Alarm, length: number, reason: string) => Promise<Alarm | null>;
  /** Why the last one was not taken. */
  readonly failure: string | null;
}

/** Writes to alarms in the name of whoever is at the carriage; what the service answers shows at once. */
export function useAlarmWrites(by: string): AlarmWrites {
  const failure = useSignal<string | null>(null);
  const taken = async (answer: Promise<Answer<Alarm>>): Promise<Alarm | null> => {
    const given = await answer;
    failure.value = given.ok ? null : given.failure.reason;
    if (!given.ok) return null;
    takeAlarm(given.value);
    return given.value;
  };
  return {
    acknowledge: async ({ id }) => await taken(acknowledgeAlarm(id, { by })),
    note: async ({ id }, note) => await taken(acknowledgeAlarm(id, { by, note })),
    shelve: async ({ id }, length, reason) => await taken(shelveAlarm(id, { until: Math.round(serverNow.peek() + length), reason, by })),
    failure: failure.value,
  };
}

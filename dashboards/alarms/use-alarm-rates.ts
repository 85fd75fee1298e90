import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { arrivedAt } from '../shared/alarm-record.js';
import { fetchAlarms } from '../shared/api.js';
import { onAlarm, opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import type { AlarmRate } from './alarm-rate.js';
import { alarmRates, oneDay } from './alarm-rate.js';

const pageSize = 1000;
/** More than so many pages of one day are not read: by then it is a flood beyond doubt. */
const mostPages = 5;
const recountEvery = 5_000;

export interface AlarmRates {
  /** null until they are known. */
  readonly rates: readonly AlarmRate[] | null;
  /** Whether there were more than could be counted. */
  readonly partial: boolean;
}

/** The rates of all carriages, whatever is listed below them. */
export function useAlarmRates(): AlarmRates {
  const known = useSignal<{ readonly alarms: ReadonlyMap<string, Alarm>; readonly partial: boolean } | null>(null);
  const times = opened.value;
  useEffect(() => {
    let stopped = false;
    const heard = new Map<string, Alarm>();
    const stop = onAlarm((alarm) => {
      heard.set(alarm.id, alarm);
      const before = known.peek();
      if (before !== null) known.value = { ...before, alarms: new Map(before.alarms).set(alarm.id, alarm) };
    });
    void readDay().then((day) => {
      // What was heard meanwhile is newer than what was read.
      if (!stopped && day !== null) known.value = { alarms: new Map([...day.alarms.map((alarm) => [alarm.id, alarm] as const), ...heard]), partial: day.partial };
    });
    return () => {
      stopped = true;
      stop();
    };
  }, [times]);
  const at = Math.ceil(serverNow.value / recountEvery) * recountEvery;
  return known.value === null ? { rates: null, partial: false } : { rates: alarmRates(known.value.alarms.values(), at), partial: known.value.partial };
}

async function readDay(): Promise<{ readonly alarms: readonly Alarm[]; readonly partial: boolean } | null> {
  const alarms: Alarm[] = [];
  let cursor: string | null = null;
  for (let page = 0; page < mostPages; page += 1) {
    const answer = await fetchAlarms({ limit: pageSize, cursor });
    if (!answer.ok) return null;
    alarms.push(...answer.value.items);
    cursor = answer.value.next;
    const oldest = alarms.at(-1);
    if (cursor === null || oldest === undefined || serverNow.peek() - Date.parse(arrivedAt(oldest)) > oneDay) return { alarms, partial: false };
  }
  return { alarms, partial: true };
}

import type { Alarm } from '../../shared/api-types/alarm.js';
import { arrivedAt, byArrival } from '../shared/standing-alarms.js';
import { fetchAlarms, type Answer, type Page } from '../shared/api.js';
import { onAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { usePagedList } from '../shared/use-paged-list.js';
import { alarmRates, oneDay, type AlarmRate } from './alarm-rate.js';

const pageSize = 1000;
/** At most this many pages of one day are read: beyond that it is certainly a flood. */
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
  const { items, hasMore } = usePagedList({ ask: async ({ cursor }, signal) => await readDay(cursor, signal), pageSize, hear: onAlarm, fits: () => true, order: byArrival }, []);
  const at = Math.ceil(serverNow.value / recountEvery) * recountEvery;
  return { rates: items === null ? null : alarmRates(items, at), partial: hasMore };
}

/** The alarms of the last day as one page; it has no next one where all of them were read. */
async function readDay(cursor: string | null, signal: AbortSignal): Promise<Answer<Page<Alarm>>> {
  const items: Alarm[] = [];
  let next = cursor;
  for (let page = 0; page < mostPages; page += 1) {
    const answer = await fetchAlarms({ limit: pageSize, cursor: next }, signal);
    if (!answer.ok) return answer;
    items.push(...answer.value.items);
    next = answer.value.next;
    const oldest = items.at(-1);
    if (next === null || oldest === undefined || serverNow.peek() - Date.parse(arrivedAt(oldest)) > oneDay) return { ok: true, value: { items, next: null } };
  }
  return { ok: true, value: { items, next } };
}

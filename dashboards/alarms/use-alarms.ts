import type { Alarm } from '../../shared/api-types/alarm.js';
import { fetchAlarms, type Answer, type CountedPage } from '../shared/api.js';
import { onAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
import { filterQuery, fits, isNotOver, orderOf, states, type AlarmFilter } from './alarm-filter.js';

const pageSize = 50;
const allOfAState = 1000;

/** The alarms of a filter. */
export function useAlarms(filter: AlarmFilter): PagedList<Alarm> {
  return usePagedList(
    {
      ask: async (page, signal) => await readAlarms(filter, page, signal),
      pageSize,
      hear: onAlarm,
      fits: (alarm) => fits(filter, alarm, serverNow.peek()),
      order: orderOf(filter),
    },
    [JSON.stringify(filter)],
  );
}

async function readAlarms(filter: AlarmFilter, page: { readonly cursor: string | null; readonly limit: number }, signal: AbortSignal): Promise<Answer<CountedPage<Alarm>>> {
  const at = serverNow.peek();
  // Active alarms can be older than those on a page.
  const apart = filter.order === 'standing' && filter.state === '' && page.cursor === null ? states.filter((state) => isNotOver({ state })) : [];
  const [answer, ...standing] = await Promise.all([
    fetchAlarms({ ...filterQuery(filter, at), ...page }, signal),
    ...apart.map(async (state) => await fetchAlarms({ ...filterQuery({ ...filter, state }, at), limit: allOfAState }, signal)),
  ]);
  if (!answer.ok) return answer;
  return { ok: true, value: { ...answer.value, items: [...standing.flatMap((own) => (own.ok ? own.value.items : [])), ...answer.value.items] } };
}

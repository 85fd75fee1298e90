import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { fetchAlarms, type Answer, type CountedPage } from '../shared/api.js';
import { formatNumber } from '../shared/units.js';
import { EmptyList, MoreButton, NotRead } from '../shared/list-parts.js';
import { onAlarm } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatClock } from '../shared/times.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
import { filterQuery, fits, isFiltered, isNotOver, orderOf, readFilter, states, type AlarmFilter } from './alarm-filter.js';
import { AlarmFilters } from './alarm-filters.js';
import { AlarmList } from './alarm-list.js';
import { AlarmRates } from './alarm-rates.js';
import './alarms.css';
import { alarmsWords } from './alarms-words.js';
import { askSeams } from './run-seams.js';

/** The alarms; the address says which of them are shown, and in which order. */
export function AlarmsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = alarmsWords();
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useAlarms(filter);
  const { items: alarms, failure, total } = list;
  useEffect(() => { askSeams((alarms ?? []).flatMap(({ run, seam }) => (run === null || seam !== null ? [] : [run]))); }, [alarms]);
  return (
    <>
      <PageHeading
        title={say.alarms}
        aside={alarms === null ? (failure === null ? say.loading : '') : alarms.length === 0 ? '' : say.counted(formatNumber(alarms.length, 0), formatNumber(total ?? alarms.length, 0), formatClock(list.givenAt))}
      />
      <AlarmFilters filter={filter} />
      <NotRead of={list} />
      {alarms !== null && alarms.length > 0 && <AlarmList alarms={alarms} />}
      {alarms?.length === 0 && <NoAlarms filtered={isFiltered(filter)} />}
      <MoreButton list={list}>{say.older}</MoreButton>
      <AlarmRates />
    </>
  );
}

function NoAlarms({ filtered }: { readonly filtered: boolean }): JSX.Element {
  const say = alarmsWords();
  if (filtered) return <EmptyList title={say.noneFits}><p><a href="#/alarms">{say.showAll}</a></p></EmptyList>;
  return <EmptyList title={say.none}><p>{say.noneMore}</p><p><a href="#/procedures">{say.seeProcedures}</a></p></EmptyList>;
}

const pageSize = 50;
const allOfAState = 1000;

/** The alarms of a filter. */
function useAlarms(filter: AlarmFilter): PagedList<Alarm> {
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

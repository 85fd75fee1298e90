import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { formatNumber } from '../shared/format.js';
import { MoreButton, NotRead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatClock } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { isFiltered, readFilter } from './alarm-filter.js';
import { AlarmFilters } from './alarm-filters.js';
import { AlarmList } from './alarm-list.js';
import { AlarmRates } from './alarm-rates.js';
import './alarms.css';
import { alarmsWords } from './alarms-words.js';
import { askSeams } from './run-seams.js';
import { useAlarms } from './use-alarms.js';

/** The alarms; the address says which of them are shown, and in which order. */
export function AlarmsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useAlarms(filter);
  const { items: alarms, failure, total } = list;
  useEffect(() => {
    askSeams((alarms ?? []).flatMap(({ run, seam }) => (run === null || seam !== null ? [] : [run])));
  }, [alarms]);
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
  const say = wordsOf(alarmsWords);
  if (filtered) {
    return (
      <section class="empty">
        <h2>{say.noneFits}</h2>
        <p><a href="#/alarms">{say.showAll}</a></p>
      </section>
    );
  }
  return (
    <section class="empty">
      <h2>{say.none}</h2>
      <p>{say.noneMore}</p>
      <p><a href="#/procedures">{say.seeProcedures}</a></p>
    </section>
  );
}

import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { formatNumber } from '../shared/units.js';
import { EmptyList, MoreButton, NotRead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatClock } from '../shared/times.js';
import type { PagedList } from '../shared/use-paged-list.js';
import { isBackwards, isFiltered, readFilter } from './run-filter.js';
import { RunFilters } from './run-filters.js';
import { RunTable } from './run-table.js';
import './runs.css';
import { runsWords } from './runs-words.js';
import { keepListPlace, readListPlace, useRunNames, useRuns } from './use-runs.js';

/** The runs, newest first or as the reader sorts them; the address says which ones. */
export function RunsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = runsWords();
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useRuns(filter);
  const { items } = list;
  const names = useRunNames();
  useListPlace(items?.length ?? null);
  return (
    <>
      <PageHeading title={say.runsLabel()} aside={listText(list, filter.order !== '')} />
      <RunFilters filter={filter} names={names} />
      <NotRead of={list} />
      {items !== null && items.length > 0 && <RunTable runs={items} filter={filter} />}
      {items?.length === 0 && !isBackwards(filter) && <NoRuns filtered={isFiltered(filter)} />}
      <MoreButton list={list}>{say.older()}</MoreButton>
    </>
  );
}

/** Notes where the reader is as the page is scrolled, and goes there once where Back has led to the list. */
function useListPlace(rows: number | null): void {
  const back = useRef(readListPlace());
  const shown = useRef(0);
  if (rows !== null) shown.current = rows;
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | null = null;
    const keep = (): void => {
      timer = null;
      if (shown.current > 0) keepListPlace({ rows: shown.current, down: window.scrollY });
    };
    const follow = (): void => { timer ??= setTimeout(keep, 150); };
    window.addEventListener('scroll', follow, { passive: true });
    window.addEventListener('click', keep, { capture: true });
    return () => {
      window.removeEventListener('scroll', follow);
      window.removeEventListener('click', keep, { capture: true });
      // If the reader leaves by a link, the current entry of the history is another one by now.
      if (timer !== null) clearTimeout(timer);
    };
  }, []);
  useEffect(() => {
    const place = back.current;
    if (place === null || rows === null) return;
    back.current = null;
    window.scrollTo(0, place.down);
  }, [rows]);
}

function listText({ items, hasMore, failure, givenAt }: PagedList<Run>, sorted: boolean): string {
  const say = runsWords();
  if (items === null) return failure === null ? say.loading : '';
  if (items.length === 0) return '';
  return say.listed(items.length, formatNumber(items.length, 0), hasMore, sorted, formatClock(givenAt));
}

/** Why the list is empty, and what to do about it. */
function NoRuns({ filtered }: { readonly filtered: boolean }): JSX.Element {
  const say = runsWords();
  if (filtered) return <EmptyList title={say.nothingFound()}><p>{say.nothingFoundMore} <a href="#/runs">{say.showAll()}</a></p></EmptyList>;
  return (
    <EmptyList title={say.none()}>
      <p>{say.noneMore()} <code>npx seamwarden import FILE</code></p>
      <p><a href="#/">{say.seeCarriages}</a></p>
    </EmptyList>
  );
}

import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { formatNumber } from '../shared/format.js';
import { formatClock } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { keepListPlace, readListPlace } from './list-place.js';
import { NoRuns } from './no-runs.js';
import { isBackwards, isFiltered, readFilter } from './run-filter.js';
import { RunFilters } from './run-filters.js';
import { RunTable } from './run-table.js';
import './runs.css';
import { runsWords } from './runs-words.js';
import { useRunNames } from './use-run-names.js';
import { useRuns } from './use-runs.js';
import type { RunList } from './use-runs.js';

/** The runs, those begun last first or as the reader sorts them; which of them stands in the address. */
export function RunsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = wordsOf(runsWords);
  const heading = say.runs();
  useEffect(() => {
    document.title = `${heading} · Seamwarden`;
  }, [heading]);
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useRuns(filter);
  const names = useRunNames();
  useListPlace(list.runs?.length ?? null);
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{heading}</h1>
        <p class="aside">{listText(list, filter.order !== '')}</p>
      </div>
      <RunFilters filter={filter} names={names} />
      {list.failure !== null && (
        <p class="empty">
          {list.failure} <button type="button" onClick={list.again}>{say.again}</button>
        </p>
      )}
      {list.runs !== null && list.runs.length > 0 && <RunTable runs={list.runs} filter={filter} />}
      {list.runs?.length === 0 && !isBackwards(filter) && <NoRuns filtered={isFiltered(filter)} />}
      {list.next !== null && (
        <p>
          <button type="button" onClick={list.more} disabled={list.busy}>{say.older()}</button>
        </p>
      )}
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
    const follow = (): void => {
      timer ??= setTimeout(keep, 150);
    };
    window.addEventListener('scroll', follow, { passive: true });
    window.addEventListener('click', keep, { capture: true });
    return () => {
      window.removeEventListener('scroll', follow);
      window.removeEventListener('click', keep, { capture: true });
      // Where the reader leaves by a link, the entry of the history is another one by now.
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

function listText({ runs, next, failure, givenAt }: RunList, sorted: boolean): string {
  const say = wordsOf(runsWords);
  if (runs === null) return failure === null ? say.asking : '';
  if (runs.length === 0) return '';
  return say.listed(runs.length, formatNumber(runs.length, 0), next !== null, sorted, formatClock(givenAt));
}

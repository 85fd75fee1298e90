import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { formatNumber } from '../shared/format.js';
import { formatClock } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { NoRuns } from './no-runs.js';
import { isFiltered, readFilter } from './run-filter.js';
import { RunFilters } from './run-filters.js';
import { RunTable } from './run-table.js';
import './runs.css';
import { runsWords } from './runs-words.js';
import { useRuns } from './use-runs.js';
import type { RunList } from './use-runs.js';

/** The runs, those begun last first; which of them stands in the address. */
export function RunsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = wordsOf(runsWords);
  const heading = say.runs();
  useEffect(() => {
    document.title = `${heading} · Seamwarden`;
  }, [heading]);
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useRuns(filter);
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>{heading}</h1>
        <p class="aside">{listText(list)}</p>
      </div>
      <RunFilters filter={filter} runs={list.runs ?? []} />
      {list.failure !== null && (
        <p class="empty">
          {list.failure} <button type="button" onClick={list.again}>{say.again}</button>
        </p>
      )}
      {list.runs !== null && list.runs.length > 0 && <RunTable runs={list.runs} />}
      {list.runs?.length === 0 && <NoRuns filtered={isFiltered(filter)} />}
      {list.next !== null && (
        <p>
          <button type="button" onClick={list.more} disabled={list.busy}>{say.older()}</button>
        </p>
      )}
    </>
  );
}

function listText({ runs, next, failure, givenAt }: RunList): string {
  const say = wordsOf(runsWords);
  if (runs === null) return failure === null ? say.asking : '';
  if (runs.length === 0) return '';
  return say.listed(runs.length, formatNumber(runs.length, 0), next !== null, formatClock(givenAt));
}

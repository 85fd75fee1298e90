import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { counted } from '../shared/format.js';
import { formatClock } from '../shared/times.js';
import { NoRuns } from './no-runs.js';
import { isFiltered, readFilter } from './run-filter.js';
import { RunFilters } from './run-filters.js';
import { RunTable } from './run-table.js';
import './runs.css';
import { useRuns } from './use-runs.js';
import type { RunList } from './use-runs.js';

/** The runs, those begun last first; which of them stands in the address. */
export function RunsPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  useEffect(() => {
    document.title = 'Runs · Seamwarden';
  }, []);
  const filter = useMemo(() => readFilter(query), [query]);
  const list = useRuns(filter);
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>Runs</h1>
        <p class="aside">
          {words(list)}
        </p>
      </div>
      <RunFilters filter={filter} runs={list.runs ?? []} />
      {list.failure !== null && (
        <p class="empty">
          {list.failure} <button type="button" onClick={list.again}>Ask again</button>
        </p>
      )}
      {list.runs !== null && list.runs.length > 0 && <RunTable runs={list.runs} />}
      {list.runs?.length === 0 && <NoRuns filtered={isFiltered(filter)} />}
      {list.next !== null && (
        <p>
          <button type="button" onClick={list.more} disabled={list.busy}>
            Show older runs
          </button>
        </p>
      )}
    </>
  );
}

function words({ runs, next, failure, givenAt }: RunList): string {
  if (runs === null) return failure === null ? 'Asking the service …' : '';
  if (runs.length === 0) return '';
  return `${next === null ? '' : 'The newest '}${counted(runs.length, 'run')}, newest first, as the service gave them at ${formatClock(givenAt)}.`;
}

import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns, type Answer, type Page } from '../shared/api.js';
import { onRun } from '../shared/live-feed.js';
import { plantZone } from '../shared/service-facts.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
import { readListPlace } from './list-place.js';
import { filterQuery, fits, isBackwards, orderOf, spanOf, type RunFilter } from './run-filter.js';

const pageSize = 50;
const none: Answer<Page<Run>> = { ok: true, value: { items: [], next: null } };

/** The runs of a filter; as many as were loaded before, if the reader comes back to the list. */
export function useRuns(filter: RunFilter): PagedList<Run> {
  return usePagedList(
    {
      ask: async (page, signal) => (isBackwards(filter) ? none : await fetchRuns({ ...filterQuery(filter, spanOf(filter, Date.now())), ...page }, signal)),
      pageSize,
      atFirst: readListPlace()?.rows,
      hear: onRun,
      fits: (run) => fits(filter, run, Date.now()),
      order: orderOf(filter),
    },
    [JSON.stringify(filter), plantZone.value],
  );
}

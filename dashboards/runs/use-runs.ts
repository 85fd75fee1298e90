import type { Run, RunNamesAnswer } from '../../shared/api-types/run.js';
import { fetchRunNames, fetchRuns, type Answer, type Page } from '../shared/api.js';
import { onRun } from '../shared/live-feed.js';
import { plantZone } from '../shared/service-facts.js';
import { useAnswer } from '../shared/use-answer.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';
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

/** Where a reader of a list was: how many rows were loaded, and how far down. It is kept with the entry of the browser's history, so that Back restores it and a fresh visit does not. */
interface ListPlace { readonly rows: number; readonly down: number }

export function readListPlace(): ListPlace | null {
  const state: unknown = window.history.state;
  if (typeof state !== 'object' || state === null || !('listPlace' in state)) return null;
  const place = state.listPlace as Partial<ListPlace> | null;
  return typeof place?.rows === 'number' && typeof place.down === 'number' ? { rows: place.rows, down: place.down } : null;
}

export function keepListPlace(place: ListPlace): void {
  window.history.replaceState({ listPlace: place }, '');
}

const noNames: RunNamesAnswer = { sites: [], carriages: [], seams: [], procedures: [], operators: [], lots: [] };

/** The names that runs can be filtered by. */
export function useRunNames(): RunNamesAnswer {
  return useAnswer(fetchRunNames, []).value ?? noNames;
}

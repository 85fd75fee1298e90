import type { Refused } from '../../shared/api-types/entries.js';
import { fetchRefused } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';

const pageSize = 100;
const every = 10_000;

/** What was refused within so many ms, the latest first, read anew from time to time; null for everything. */
export function useRefused(within: number | null): PagedList<Refused> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchRefused({ since: within === null ? null : new Date(serverNow.peek() - within).toISOString(), ...page }, signal),
      pageSize,
      hear: null,
      fits: () => true,
      order: null,
    },
    [within],
    { by: [opened.value], every },
  );
}

import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { onRun } from '../shared/live-feed.js';
import { usePagedList, type PagedList } from '../shared/use-paged-list.js';

/** More than any seam has. */
const pageSize = 1000;

/** The runs of a seam, one side after the other, in the order in which they were laid; runs without a side are last. */
export function useSeamRuns(seam: string): PagedList<Run> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchRuns({ seam, ...page }, signal),
      pageSize,
      hear: onRun,
      fits: (run) => run.seam === seam,
      order: (a, b) => (a.assignment?.side ?? 10) - (b.assignment?.side ?? 10) || (a.run ?? 0) - (b.run ?? 0) || (a.startedAt < b.startedAt ? -1 : a.startedAt > b.startedAt ? 1 : 0),
    },
    [seam],
  );
}

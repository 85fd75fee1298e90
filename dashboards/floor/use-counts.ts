import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { onRun } from '../shared/live-feed.js';
import { usePagedList } from '../shared/use-paged-list.js';

/** What was welded in the runs that began since a time. */
export interface Counts {
  readonly runs: number;
  readonly withExcursions: number;
  /** mm. */
  readonly length: number;
  /** Whether there were more than could be counted. */
  readonly partial: boolean;
}

/** The parts of a run that are kept: a monitor counts for weeks. */
type Counted = Pick<Run, 'id' | 'site' | 'startedAt' | 'excursions' | 'length'>;

const pageSize = 1000;

/** Counts the runs begun since a time, ms since 1970, in one hall or in all, and keeps the count up to date by the live feed; null until it is known. */
export function useCounts(site: string, since: number): Counts | null {
  const { items, hasMore } = usePagedList<Counted>(
    {
      ask: async (page, signal) => {
        const answer = await fetchRuns({ from: new Date(since).toISOString(), site, ...page }, signal);
        return answer.ok ? { ok: true, value: { ...answer.value, items: answer.value.items.map(counted) } } : answer;
      },
      pageSize,
      hear: (listener) => onRun((run) => { listener(counted(run)); }),
      fits: (run) => Date.parse(run.startedAt) >= since && (site === '' || run.site === site),
      order: (a, b) => (a.startedAt < b.startedAt ? 1 : a.startedAt > b.startedAt ? -1 : 0),
    },
    [since, site],
  );
  if (items === null) return null;
  return { runs: items.length, withExcursions: items.filter(({ excursions }) => excursions > 0).length, length: items.reduce((sum, own) => sum + (own.length ?? 0), 0), partial: hasMore };
}

function counted({ id, site, startedAt, excursions, length }: Run): Counted {
  return { id, site, startedAt, excursions, length };
}

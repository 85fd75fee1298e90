import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { onRun, opened } from '../shared/live-feed.js';

/** What was welded in the runs begun since a time. */
export interface Counts {
  readonly runs: number;
  readonly withExcursions: number;
  /** mm. */
  readonly length: number;
  /** Whether there were more than could be counted. */
  readonly partial: boolean;
}

interface Known {
  readonly runs: ReadonlyMap<string, { readonly excursions: number; readonly length: number }>;
  readonly partial: boolean;
}

const pageSize = 1000;

/** Counts the runs begun since a time, ms since 1970, in one hall or in all of them, and follows them as they are told; null until it is known. */
export function useCounts(site: string, since: number): Counts | null {
  const known = useSignal<Known | null>(null);
  const times = opened.value;
  useEffect(() => {
    const stopping = new AbortController();
    const take = (runs: readonly Pick<Run, 'id' | 'excursions' | 'startedAt' | 'site' | 'length'>[], partial: boolean): void => {
      const before = known.peek();
      const own = runs.filter((run) => Date.parse(run.startedAt) >= since && (site === '' || run.site === site));
      if (own.length === 0 && before !== null) return;
      known.value = { runs: new Map([...(before?.runs ?? []), ...own.map(({ id, excursions, length }) => [id, { excursions, length: length ?? 0 }] as const)]), partial: partial || (before?.partial ?? false) };
    };
    known.value = null;
    void fetchRuns({ from: new Date(since).toISOString(), site, limit: pageSize }, stopping.signal)
      .then((answer) => { if (answer.ok) take(answer.value.items, answer.value.next !== null); })
      .catch(() => undefined);
    const stop = onRun((run) => { if (known.peek() !== null) take([run], false); });
    return () => {
      stopping.abort();
      stop();
    };
  }, [since, site, times]);
  if (known.value === null) return null;
  const all = [...known.value.runs.values()];
  return { runs: all.length, withExcursions: all.filter(({ excursions }) => excursions > 0).length, length: all.reduce((sum, own) => sum + own.length, 0), partial: known.value.partial };
}

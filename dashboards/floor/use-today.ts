import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { onRun, opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { plantTime, timeInPlant } from '../shared/plant-time.js';

/** What was welded since midnight in the plant. */
export interface Today {
  readonly runs: number;
  readonly withExcursions: number;
  /** Whether there were more than could be counted. */
  readonly partial: boolean;
}

const pageSize = 1000;

/** Counts the runs begun today, in one hall or in all of them, and follows them as they are told; null until it is known. */
export function useToday(site: string): Today | null {
  const known = useSignal<{ readonly excursions: ReadonlyMap<string, number>; readonly partial: boolean } | null>(null);
  const midnight = timeInPlant({ ...plantTime(serverNow.value), hour: 0, minute: 0, second: 0 });
  const times = opened.value;
  useEffect(() => {
    const stopping = new AbortController();
    const take = (runs: readonly Pick<Run, 'id' | 'excursions' | 'startedAt' | 'site'>[], partial: boolean): void => {
      const before = known.peek();
      const own = runs.filter((run) => Date.parse(run.startedAt) >= midnight && (site === '' || run.site === site));
      if (own.length === 0 && before !== null) return;
      known.value = { excursions: new Map([...(before?.excursions ?? []), ...own.map((run) => [run.id, run.excursions] as const)]), partial: partial || (before?.partial ?? false) };
    };
    known.value = null;
    void fetchRuns({ from: new Date(midnight).toISOString(), site, limit: pageSize }, stopping.signal)
      .then((answer) => { if (answer.ok) take(answer.value.items, answer.value.next !== null); })
      .catch(() => undefined);
    const stop = onRun((run) => { if (known.peek() !== null) take([run], false); });
    return () => {
      stopping.abort();
      stop();
    };
  }, [midnight, site, times]);
  if (known.value === null) return null;
  const { excursions, partial } = known.value;
  return { runs: excursions.size, withExcursions: [...excursions.values()].filter((count) => count > 0).length, partial };
}

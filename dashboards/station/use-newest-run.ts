import { useEffect, useState } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';

/** The carriage's newest run, open or finished; null without one, undefined while it is asked for. Asked again whenever a run begins or ends. */
export function useNewestRun({ site, carriage, run, welding }: Carriage): Run | null | undefined {
  const [newest, setNewest] = useState<Run | null | undefined>(undefined);
  useEffect(() => {
    const asking = new AbortController();
    if (!welding) {
      void fetchRuns({ site, carriage, limit: 1 }, asking.signal).then(
        (answer) => {
          setNewest(answer.ok ? (answer.value.items[0] ?? null) : null);
        },
        () => undefined,
      );
    }
    return () => {
      asking.abort();
    };
  }, [site, carriage, run, welding]);
  return newest;
}

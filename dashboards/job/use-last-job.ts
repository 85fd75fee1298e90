import { useEffect, useState } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { fetchRuns } from '../shared/api.js';

/** The job in force, or else that of the carriage's newest run that had one; null where there was none, undefined while it is asked for. */
export function useLastJob({ site, carriage, assignment }: Carriage): AssignmentAnswer | null | undefined {
  const [last, setLast] = useState<AssignmentAnswer | null | undefined>(undefined);
  const has = assignment !== null;
  useEffect(() => {
    const asking = new AbortController();
    if (!has) {
      void fetchRuns({ site, carriage, assigned: 'true', limit: 1 }, asking.signal).then(
        (answer) => {
          setLast(answer.ok ? (answer.value.items[0]?.assignment ?? null) : null);
        },
        () => undefined,
      );
    }
    return () => {
      asking.abort();
    };
  }, [site, carriage, has]);
  return assignment ?? last;
}

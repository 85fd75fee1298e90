import { useEffect, useState } from 'preact/hooks';
import type { ProcedureUsage } from '../../shared/api-types/procedure-usage.js';
import { fetchUsage } from './procedure-api.js';

/** By how many runs each revision is used; null until it is known, and where it can't be. */
export function useUsage(id: string): ProcedureUsage | null {
  const [usage, setUsage] = useState<ProcedureUsage | null>(null);
  useEffect(() => {
    const abort = new AbortController();
    void fetchUsage(id, abort.signal).then(
      (answer) => { if (!abort.signal.aborted) setUsage(answer.ok ? answer.value : null); },
      () => undefined,
    );
    return () => {
      abort.abort();
    };
  }, [id]);
  return usage;
}

/** Runs that use the revision, or any of them. */
export function usedRuns({ runs, revisions }: ProcedureUsage, revision: number | null): number {
  return revision === null ? runs : (revisions.find((own) => own.revision === revision)?.runs ?? 0);
}

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { ExcursionAnswer } from '../../../shared/api-types/excursion.js';
import type { Run } from '../../../shared/api-types/run.js';
import { fetchExcursions } from '../../shared/api.js';
import type { Failure } from '../../shared/api.js';

export interface ExcursionsNow {
  /** The oldest first; null until the first answer. */
  readonly items: readonly ExcursionAnswer[] | null;
  readonly failure: Failure | null;
}

/** The run's excursions, read anew when their number or the run's version changes. */
export function useExcursions({ id, excursions, version, state }: Run): ExcursionsNow {
  const found = useSignal<ExcursionsNow>({ items: null, failure: null });
  useEffect(() => {
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const answer = await fetchExcursions(id, abort.signal);
        found.value = answer.ok ? { items: answer.value.items.toReversed(), failure: null } : { ...found.peek(), failure: answer.failure };
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    if (excursions === 0) found.value = { items: [], failure: null };
    else void read();
    return () => {
      abort.abort();
    };
  }, [id, excursions, version, state]);
  return found.value;
}

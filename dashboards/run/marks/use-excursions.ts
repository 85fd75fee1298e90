import type { ExcursionAnswer } from '../../../shared/api-types/excursion.js';
import type { Run } from '../../../shared/api-types/run.js';
import { fetchExcursions, type Failure } from '../../shared/api.js';
import { opened } from '../../shared/live-feed.js';
import { useAnswer } from '../../shared/use-answer.js';

export interface ExcursionsNow {
  /** The oldest first; null until the first answer. */
  readonly items: readonly ExcursionAnswer[] | null;
  readonly failure: Failure | null;
}

const none: ExcursionsNow = { items: [], failure: null };

/** The run's excursions, read anew when their number or the run's version changes. */
export function useExcursions({ id, excursions, version, state }: Run): ExcursionsNow {
  const { value, failure } = useAnswer(
    excursions === 0 ? null : async (signal) => {
      const answer = await fetchExcursions(id, signal);
      return answer.ok ? { ok: true, value: answer.value.items.toReversed() } : answer;
    },
    [id],
    { by: [opened.value, excursions, version, state] },
  );
  return excursions === 0 ? none : { items: value, failure };
}

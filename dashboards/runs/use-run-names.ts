import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { RunNamesAnswer } from '../../shared/api-types/run.js';
import { get } from '../shared/api.js';
import type { Answer } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';

const none: RunNamesAnswer = { sites: [], carriages: [], seams: [], procedures: [], operators: [], lots: [] };

/** The names that runs can be filtered by, read anew with the list. */
export function useRunNames(): RunNamesAnswer {
  const names = useSignal(none);
  const times = opened.value;
  useEffect(() => {
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const answer = (await get('run-names', {}, abort.signal)) as Answer<RunNamesAnswer>;
        if (answer.ok) names.value = answer.value;
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    return () => {
      abort.abort();
    };
  }, [times]);
  return names.value;
}

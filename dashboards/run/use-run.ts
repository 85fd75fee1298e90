import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRun } from '../shared/api.js';
import type { Failure } from '../shared/api.js';
import { onRun, opened } from '../shared/live-feed.js';

export interface RunNow {
  readonly run: Run | null;
  /** Browser time when it was given, ms. */
  readonly givenAt: number;
  readonly failure: Failure | null;
}

export interface FollowedRun extends RunNow {
  /** Takes the run as a write has just answered it. */
  readonly take: (run: Run) => void;
}

/** One run, followed by the live feed and read anew after the feed was lost. */
export function useRun(id: string): FollowedRun {
  const state = useSignal<RunNow>({ run: null, givenAt: 0, failure: null });
  useEffect(
    () =>
      onRun((run) => {
        if (run.id === id) state.value = { run, givenAt: Date.now(), failure: null };
      }),
    [id],
  );
  const times = opened.value;
  useEffect(() => {
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const answer = await fetchRun(id, abort.signal);
        state.value = answer.ok ? { run: answer.value, givenAt: Date.now(), failure: null } : { ...state.peek(), failure: answer.failure };
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    return () => {
      abort.abort();
    };
  }, [id, times]);
  return { ...state.value, take: (run) => { state.value = { run, givenAt: Date.now(), failure: null }; } };
}

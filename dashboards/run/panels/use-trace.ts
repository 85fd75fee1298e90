import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { fetchTrace } from '../../shared/api.js';
import { opened } from '../../shared/live-feed.js';
import type { RunView } from '../run-view.js';

/** Least time between two readings of a trace that grows, ms. */
const growthEvery = 2_000;
/** A long run is judged anew for each reading: reading it again waits so many times as long as the last took, so that who watches costs the service little. */
const restOf = 20;
/** ms. */
const busyWait = 250;

export interface TraceNow {
  readonly trace: Trace | null;
  /** The view that the trace was asked for. */
  readonly view: RunView;
  readonly busy: boolean;
  readonly failure: string | null;
}

/** The traces of the seen part, as fine as the drawing is wide; they grow while the run is welded. */
export function useTrace(run: Run, view: RunView, points: number): TraceNow {
  const state = useSignal<TraceNow>({ trace: null, view, busy: true, failure: null });
  const lastRead = useRef({ at: 0, took: 0 });
  const { axis, from, to } = view;
  const times = opened.value;
  // Only a run that is welded, or one that was revised, has other rows than before.
  const growth = run.state === 'welding' ? run.duration : `${run.version} ${run.endedAt ?? ''}`;
  const read = async (signal: AbortSignal): Promise<void> => {
    const asked = Date.now();
    lastRead.current = { at: asked, took: 0 };
    state.value = { ...state.peek(), busy: true };
    try {
      const answer = await fetchTrace(run.id, { axis, from, to, points, judged: 'true' }, signal);
      lastRead.current = { at: asked, took: Date.now() - asked };
      state.value = answer.ok ? { trace: answer.value, view, busy: false, failure: null } : { ...state.peek(), busy: false, failure: answer.failure.reason };
    } catch (error) {
      if (!signal.aborted) throw error;
    }
  };
  const asking = useRef(new AbortController());
  useEffect(() => {
    const abort = new AbortController();
    asking.current = abort;
    if (points > 0) void read(abort.signal);
    return () => {
      abort.abort();
    };
  }, [run.id, axis, from, to, points, times]);
  useEffect(() => {
    if (state.peek().trace === null || points === 0) return;
    // What is on its way is waited for: a run that grows faster than it is read would never be seen.
    const again = (): void => {
      if (state.peek().busy) timer = setTimeout(again, busyWait);
      else void read(asking.current.signal);
    };
    let timer = setTimeout(again, Math.max(0, lastRead.current.at + Math.max(growthEvery, restOf * lastRead.current.took) - Date.now()));
    return () => {
      clearTimeout(timer);
    };
  }, [growth]);
  return state.value;
}

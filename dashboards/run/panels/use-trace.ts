import { useEffect, useRef } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { fetchTrace } from '../../shared/api.js';
import { opened } from '../../shared/live-feed.js';
import { useAnswer } from '../../shared/use-answer.js';
import type { RunView } from '../run-view.js';
import { overAxis, requestedPart } from './axis-request.js';

/** Least time between two readings of a trace that grows, ms. */
const growthEvery = 2_000;
/** The service judges a long run anew for each reading, so the next one waits this many times as long as the last one took: watching costs the service little. */
const restOf = 20;
/** ms. */
const busyWait = 250;

export interface TraceNow {
  readonly trace: Trace | null;
  /** The view for which the trace was requested. */
  readonly view: RunView;
  readonly busy: boolean;
  readonly failure: string | null;
}

/** The traces of the seen part, as fine as the drawing is wide; they grow while the run is welded. Those of the part before stay until these are there. */
export function useTrace(run: Run, view: RunView, points: number): TraceNow {
  const { axis, from, to } = view;
  const lastRead = useRef({ at: 0, took: 0 });
  const { value, failure, asking, again } = useAnswer(
    points === 0 ? null : async (signal) => {
      const at = Date.now();
      lastRead.current = { at, took: 0 };
      const answer = await fetchTrace(run.id, { ...requestedPart(run, view), points, judged: 'true' }, signal);
      lastRead.current = { at, took: Date.now() - at };
      return answer.ok ? { ok: true, value: { trace: overAxis(answer.value, view), view } } : answer;
    },
    [run.id],
    { by: [opened.value, axis, from, to, points] },
  );
  const newest = useRef({ asking, again });
  newest.current = { asking, again };
  // Only a run that is welded, or one that was revised, has other rows than before.
  const growth = run.state === 'welding' ? run.duration : `${run.version} ${run.endedAt ?? ''}`;
  useEffect(() => {
    if (value === null || points === 0) return;
    // Waits for a request that is on its way: otherwise a run that grows faster than it is read would never be shown.
    const readAgain = (): void => {
      if (newest.current.asking) timer = setTimeout(readAgain, busyWait);
      else newest.current.again();
    };
    let timer = setTimeout(readAgain, Math.max(0, lastRead.current.at + Math.max(growthEvery, restOf * lastRead.current.took) - Date.now()));
    return () => { clearTimeout(timer); };
  }, [growth]);
  return { trace: value?.trace ?? null, view: value?.view ?? view, busy: asking || points === 0, failure: failure?.reason ?? null };
}

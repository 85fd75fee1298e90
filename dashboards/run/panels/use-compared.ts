import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { fetchRun, fetchRuns, fetchTrace } from '../../shared/api.js';
import type { RunView } from '../run-view.js';

export interface Compared {
  readonly run: Run | null;
  readonly trace: Trace | null;
  readonly failure: string | null;
}

const nothing: Compared = { run: null, trace: null, failure: null };

/** The run that is laid over this one, and its traces over the same part of the same axis. */
export function useCompared({ compared, axis, from, to }: RunView, points: number): Compared {
  const state = useSignal<Compared>(nothing);
  useEffect(() => {
    if (compared === null || points === 0) {
      state.value = nothing;
      return undefined;
    }
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const [run, trace] = await Promise.all([fetchRun(compared, abort.signal), fetchTrace(compared, { axis, from, to, points, judged: 'true' }, abort.signal)]);
        if (run.ok && trace.ok) state.value = { run: run.value, trace: trace.value, failure: null };
        else state.value = { ...nothing, failure: (run.ok ? (trace.ok ? null : trace.failure) : run.failure)?.reason ?? null };
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    return () => {
      abort.abort();
    };
  }, [compared, axis, from, to, points]);
  return state.value;
}

export interface Comparable {
  readonly ofSeam: readonly Run[];
  readonly ofProcedure: readonly Run[];
}

/** So many runs are offered of one seam, and of one procedure. */
const offered = 100;

/** Runs that this one can be held against: those of its seam in the order of their numbers, and the newest others of its procedure. */
export function useComparable({ id, seam, procedure }: Run, wanted: boolean): Comparable {
  const state = useSignal<Comparable>({ ofSeam: [], ofProcedure: [] });
  useEffect(() => {
    if (!wanted) return undefined;
    const abort = new AbortController();
    const list = async (filter: Readonly<Record<string, string>>): Promise<readonly Run[]> => {
      const answer = await fetchRuns({ ...filter, limit: offered }, abort.signal);
      return answer.ok ? answer.value.items.filter((run) => run.id !== id) : [];
    };
    const read = async (): Promise<void> => {
      try {
        const [ofSeam, ofProcedure] = await Promise.all([seam === null ? [] : list({ seam }), procedure === null ? [] : list({ procedure: procedure.id })]);
        state.value = {
          ofSeam: [...ofSeam].sort((a, b) => (a.run ?? 0) - (b.run ?? 0) || a.attempt - b.attempt),
          ofProcedure: ofProcedure.filter((run) => run.seam !== seam),
        };
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    return () => {
      abort.abort();
    };
  }, [id, seam, procedure?.id, wanted]);
  return state.value;
}

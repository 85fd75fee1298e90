import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { fetchRun, fetchRuns, fetchTrace } from '../../shared/api.js';
import { opened } from '../../shared/live-feed.js';
import { formatDateTime } from '../../shared/times.js';
import { useAnswer } from '../../shared/use-answer.js';
import { runTitle } from '../run-text.js';
import type { RunView } from '../run-view.js';
import { overAxis, requestedPart } from './axis-request.js';
import { panelWords } from './panel-words.js';

interface CompareChoiceProps {
  readonly run: Run;
  readonly compared: string | null;
  /** The run that is chosen, once it is known. */
  readonly shown: Run | null;
  /** Why it is not known, once asking for it failed. */
  readonly failure: string | null;
  readonly onChoose: (other: Run | null) => void;
}

/** Chooses the run that is compared with this one. */
export function CompareChoice({ run, compared, shown, failure, onChoose }: CompareChoiceProps): JSX.Element | null {
  const say = panelWords();
  const { ofSeam, ofProcedure } = useComparable(run);
  const listed = [...ofSeam, ...ofProcedure];
  const extra = shown !== null && !listed.some(({ id }) => id === shown.id) ? [shown] : [];
  // One that the address names is chosen before anything is known of it.
  const awaited = compared !== null && ![...listed, ...extra].some(({ id }) => id === compared);
  if (listed.length === 0 && extra.length === 0 && !awaited) return null;
  const option = (own: Run): JSX.Element => <option key={own.id} value={own.id}>{say.compareRun(runTitle(own), formatDateTime(own.startedAt).slice(0, 16))}</option>;
  return (
    <label class="compare">
      {say.compare}{' '}
      <select value={compared ?? ''} onChange={(event) => { onChoose([...listed, ...extra].find(({ id }) => id === event.currentTarget.value) ?? null); }}>
        <option value="">{say.compareNone}</option>
        {awaited && <option value={compared}>{failure === null ? say.loading : say.compareUnknown}</option>}
        {extra.map(option)}
        {ofSeam.length > 0 && <optgroup label={say.seamOf(run.seam ?? '')}>{ofSeam.map(option)}</optgroup>}
        {ofProcedure.length > 0 && <optgroup label={say.compareProcedure(run.procedure?.id ?? '')}>{ofProcedure.map(option)}</optgroup>}
      </select>
    </label>
  );
}

interface Compared { readonly run: Run | null; readonly trace: Trace | null; readonly failure: string | null }

/** The run that is compared with this one, and its traces over the same part of the same axis. */
export function useCompared(of: Run, { compared, axis, from, to }: RunView, points: number): Compared {
  const { value, failure } = useAnswer(
    compared === null || points === 0 ? null : async (signal) => {
      const [run, trace] = await Promise.all([fetchRun(compared, signal), fetchTrace(compared, { ...requestedPart(of, { axis, from, to }), points, judged: 'true' }, signal)]);
      if (!run.ok) return run;
      return trace.ok ? { ok: true, value: { run: run.value, trace: overAxis(trace.value, { axis }) } } : trace;
    },
    [compared],
    { by: [opened.value, axis, from, to, points] },
  );
  // An answer for another part is not shown as this one.
  return { run: null, trace: null, ...(failure === null ? value : null), failure: failure?.reason ?? null };
}

interface Comparable { readonly ofSeam: readonly Run[]; readonly ofProcedure: readonly Run[] }

/** How many runs of one seam, and of one procedure, are offered. */
const offered = 100;

const none: Comparable = { ofSeam: [], ofProcedure: [] };

/** Runs that this one can be compared with: those of its seam in the order of their numbers, and the newest others of its procedure. */
function useComparable({ id, seam, procedure }: Run): Comparable {
  const { value } = useAnswer(
    async (signal) => {
      const list = async (filter: Readonly<Record<string, string>>): Promise<readonly Run[]> => {
        const answer = await fetchRuns({ ...filter, limit: offered }, signal);
        return answer.ok ? answer.value.items.filter((run) => run.id !== id) : [];
      };
      const [ofSeam, ofProcedure] = await Promise.all([seam === null ? [] : list({ seam }), procedure === null ? [] : list({ procedure: procedure.id })]);
      return {
        ok: true,
        value: {
          ofSeam: [...ofSeam].sort((a, b) => (a.run ?? 0) - (b.run ?? 0) || a.attempt - b.attempt),
          ofProcedure: ofProcedure.filter((run) => run.seam !== seam),
        },
      };
    },
    [id, seam, procedure?.id],
    { by: [] },
  );
  return value ?? none;
}

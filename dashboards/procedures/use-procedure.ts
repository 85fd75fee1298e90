import type { Procedure } from '../../shared/api-types/procedure.js';
import type { Answer, Failure } from '../shared/api.js';
import { useAnswer } from '../shared/use-answer.js';
import { fetchRevision } from './procedure-api.js';

interface Read {
  readonly newest: Procedure;
  readonly shown: Answer<Procedure>;
}

interface ProcedureNow {
  readonly newest: Procedure | null;
  readonly shown: Procedure | null;
  readonly failure: Failure | null;
  readonly asking: boolean;
  readonly again: () => void;
}

/**
 * The latest revision and the one to show, read again whenever `reading` changes; the earlier ones stay until then. They are not read again when the live
 * feed opens, as a form that somebody fills in begins with them.
 */
export function useProcedure(id: string, revision: number | null, reading: boolean): ProcedureNow {
  const { value, failure, asking, again } = useAnswer(async (signal) => await readRevision(id, revision, signal), [id], { by: [revision, reading] });
  if (failure !== null || value === null) return { newest: null, shown: null, failure, asking, again };
  const { newest, shown } = value;
  return { newest, shown: shown.ok ? shown.value : null, failure: shown.ok ? null : shown.failure, asking, again };
}

async function readRevision(id: string, revision: number | null, signal: AbortSignal): Promise<Answer<Read>> {
  const newest = await fetchRevision(id, null, signal);
  if (!newest.ok) return newest;
  return { ok: true, value: { newest: newest.value, shown: revision === null || revision === newest.value.revision ? newest : await fetchRevision(id, revision, signal) } };
}

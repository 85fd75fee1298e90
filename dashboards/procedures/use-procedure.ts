import { useEffect, useState } from 'preact/hooks';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { Failure } from '../shared/api.js';
import { fetchRevision } from './procedure-api.js';

interface Read {
  readonly newest: Procedure | null;
  readonly shown: Procedure | null;
  readonly failure: Failure | null;
}

const nothing: Read = { newest: null, shown: null, failure: null };

/** The latest revision and the one to be shown, read anew whenever `reading` changes. */
export function useProcedure(id: string, revision: number | null, reading: boolean): Read & { readonly askAgain: () => void } {
  const [read, setRead] = useState<Read>(nothing);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    const abort = new AbortController();
    void readRevision(id, revision, abort.signal).then(
      (answer) => { if (!abort.signal.aborted) setRead(answer); },
      () => undefined,
    );
    return () => {
      abort.abort();
    };
  }, [id, revision, reading, turn]);
  return { ...read, askAgain: () => { setTurn(turn + 1); } };
}

async function readRevision(id: string, revision: number | null, signal: AbortSignal): Promise<Read> {
  const newest = await fetchRevision(id, null, signal);
  if (!newest.ok) return { ...nothing, failure: newest.failure };
  const shown = revision === null || revision === newest.value.revision ? newest : await fetchRevision(id, revision, signal);
  if (!shown.ok) return { ...nothing, newest: newest.value, failure: shown.failure };
  return { newest: newest.value, shown: shown.value, failure: null };
}

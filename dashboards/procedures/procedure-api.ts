import type { Problem } from '../../shared/api-types/problem.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { ProcedureUsage } from '../../shared/api-types/procedure-usage.js';
import type { Query } from '../shared/address.js';
import { get, type Answer, type Page } from '../shared/api.js';
import type { Json } from './draft-body.js';

export async function fetchProcedures(query: Query, signal: AbortSignal): Promise<Answer<Page<Procedure>>> {
  return (await get('procedures', query, signal)) as Answer<Page<Procedure>>;
}

/** By how many runs the procedure and each of its revisions are used. */
export async function fetchUsage(id: string, signal: AbortSignal): Promise<Answer<ProcedureUsage>> {
  return (await get(`procedures/${encodeURIComponent(id)}/usage`, {}, signal)) as Answer<ProcedureUsage>;
}

export type Saved = { readonly is: 'saved'; readonly procedure: Procedure } | { readonly is: 'refused'; readonly problem: Problem } | { readonly is: 'unreached' };

const patience = 20_000;

/** Stores a new procedure (`id` null) or the next revision of one; a refusal comes with the reasons for each field. */
export async function saveProcedure(id: string | null, body: Json): Promise<Saved> {
  try {
    const response = await fetch(id === null ? 'api/procedures' : `api/procedures/${encodeURIComponent(id)}/revisions`, {
      method: 'POST',
      headers: { accept: 'application/json', 'content-type': 'application/json' },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(patience),
    });
    const answer: unknown = await response.json();
    return response.ok ? { is: 'saved', procedure: answer as Procedure } : { is: 'refused', problem: answer as Problem };
  } catch {
    return { is: 'unreached' };
  }
}

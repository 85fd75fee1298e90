import type { AssignmentAnswer, MaterialEntry } from '../../shared/api-types/assignment.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchAll, get, send, type Answer, type Page } from '../shared/api.js';

/** Whose job it is: a carriage's from now on, or a run's that is finished. */
export type JobTarget = { readonly site: string; readonly carriage: string } | { readonly run: string };

export interface Signed { readonly by: string; readonly reason?: string | undefined }

/** Every procedure there is, by id, in its newest revision. */
export async function fetchAllProcedures(signal: AbortSignal): Promise<Answer<readonly Procedure[]>> {
  const answer = await fetchAll(async (page) => (await get('procedures', page, signal)) as Answer<Page<Procedure>>);
  return answer.ok ? { ok: true, value: answer.value.sort((a, b) => a.id.localeCompare(b.id, 'en', { numeric: true })) } : answer;
}

/** Gives a carriage its job, or corrects the current one if seam and run are the same. `time` says from when the job applies, RFC 3339; the default is now. */
export async function putCarriageJob(site: string, carriage: string, job: AssignmentAnswer, signed: Signed): Promise<Answer<AssignmentAnswer>> {
  return (await send('PUT', carriagePath(site, carriage), { ...job, ...signed })) as Answer<AssignmentAnswer>;
}

export async function endCarriageJob(site: string, carriage: string, by: string): Promise<Answer<unknown>> {
  return await send('DELETE', `${carriagePath(site, carriage)}?by=${encodeURIComponent(by)}`, null);
}

/** Enters a new spool or new flux while a run goes on. */
export async function postMaterial(site: string, carriage: string, entry: MaterialEntry): Promise<Answer<AssignmentAnswer>> {
  return (await send('POST', `carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}/materials`, { ...entry })) as Answer<AssignmentAnswer>;
}

/** Gives a finished run its job, or corrects it; the run is computed anew. */
export async function putRunJob(run: string, job: AssignmentAnswer, signed: Signed): Promise<Answer<Run>> {
  return (await send('PUT', `runs/${encodeURIComponent(run)}/assignment`, { ...job, ...signed })) as Answer<Run>;
}

function carriagePath(site: string, carriage: string): string {
  return `carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}/assignment`;
}

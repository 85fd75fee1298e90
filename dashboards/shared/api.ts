import type { Alarm } from '../../shared/api-types/alarm.js';
import type { AssignmentAnswer, PreparationEntries } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Refused } from '../../shared/api-types/entries.js';
import type { Problem } from '../../shared/api-types/problem.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { ExcursionAnswer } from '../../shared/api-types/excursion.js';
import type { RunFiguresAnswer } from '../../shared/api-types/figures.js';
import type { ServiceFacts } from '../../shared/api-types/service.js';
import type { Run, RunNamesAnswer } from '../../shared/api-types/run.js';
import type { Trace } from '../../shared/api-types/trace.js';
import { queryText, type Query } from './address.js';
import { hearDateHeader } from './now.js';
import { sharedWords } from './shared-words.js';

export interface Page<T> { readonly items: readonly T[]; readonly next: string | null }

/** Why there is no answer; `status` is null if the service was not reached. */
export interface Failure { readonly status: number | null; readonly reason: string }

export type Answer<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly failure: Failure };

const patience = 20_000;

export type Method = 'POST' | 'PUT' | 'DELETE';

interface Asking {
  readonly query?: Query;
  /** With a body the method is POST, unless `method` says otherwise. */
  readonly body?: Readonly<Record<string, unknown>>;
  readonly method?: 'GET' | Method;
  readonly signal?: AbortSignal | null;
  readonly wait?: number;
}

/** The service checks the shapes of its answers; the pages take them as described. */
async function ask(path: string, { query = {}, body, method = body === undefined ? 'GET' : 'POST', signal = null, wait = patience }: Asking): Promise<Answer<unknown>> {
  const limit = AbortSignal.timeout(wait);
  const askedAt = Date.now();
  try {
    const response = await fetch(`api/${path}${queryText(query)}`, {
      headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
      method,
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      cache: 'no-store',
      signal: signal === null ? limit : AbortSignal.any([signal, limit]),
    });
    hearDateHeader(response.headers.get('date'), askedAt);
    const answer: unknown = response.status === 204 ? null : await response.json();
    if (response.ok) return { ok: true, value: answer };
    return { ok: false, failure: { status: response.status, reason: (answer as Problem).detail } };
  } catch (error) {
    if (signal?.aborted === true) throw error;
    const say = sharedWords();
    const late = error instanceof DOMException && error.name === 'TimeoutError';
    return { ok: false, failure: { status: null, reason: late ? say.noAnswerWithin(wait / 1000) : say.notReached } };
  }
}

export async function get(path: string, query: Query, signal: AbortSignal | null, wait = patience): Promise<Answer<unknown>> {
  return await ask(path, { query, signal, wait });
}

export async function send(method: Method, path: string, body: Readonly<Record<string, unknown>> | null): Promise<Answer<unknown>> {
  return await ask(path, body === null ? { method } : { method, body });
}

export async function fetchHealth(wait: number): Promise<Answer<unknown>> {
  return await get('health', {}, null, wait);
}

export async function fetchService(): Promise<Answer<ServiceFacts>> {
  return (await get('service', {}, null)) as Answer<ServiceFacts>;
}

/** Every item of a list, however many pages it has. */
export async function fetchAll<T>(ask: (page: Query) => Promise<Answer<Page<T>>>): Promise<Answer<T[]>> {
  const all: T[] = [];
  let cursor: string | null = null;
  do {
    const answer = await ask({ limit: 1000, cursor });
    if (!answer.ok) return answer;
    all.push(...answer.value.items);
    cursor = answer.value.next;
  } while (cursor !== null);
  return { ok: true, value: all };
}

export async function fetchCarriages(): Promise<Answer<readonly Carriage[]>> {
  return await fetchAll(async (page) => (await get('carriages', page, null)) as Answer<Page<Carriage>>);
}

export async function fetchRuns(query: Query, signal: AbortSignal): Promise<Answer<Page<Run>>> {
  return (await get('runs', query, signal)) as Answer<Page<Run>>;
}

export async function fetchRunNames(signal: AbortSignal): Promise<Answer<RunNamesAnswer>> {
  return (await get('run-names', {}, signal)) as Answer<RunNamesAnswer>;
}

export async function fetchRun(id: string, signal: AbortSignal): Promise<Answer<Run>> {
  return (await get(`runs/${encodeURIComponent(id)}`, {}, signal)) as Answer<Run>;
}

export async function fetchRunFigures(id: string, signal: AbortSignal): Promise<Answer<RunFiguresAnswer>> {
  return (await get(`runs/${encodeURIComponent(id)}/figures`, {}, signal)) as Answer<RunFiguresAnswer>;
}

export async function fetchExcursions(id: string, signal: AbortSignal): Promise<Answer<Page<ExcursionAnswer>>> {
  return (await get(`runs/${encodeURIComponent(id)}/excursions`, { limit: 1000 }, signal)) as Answer<Page<ExcursionAnswer>>;
}

export async function fetchTrace(id: string, query: Query, signal: AbortSignal): Promise<Answer<Trace>> {
  return (await get(`runs/${encodeURIComponent(id)}/trace`, query, signal)) as Answer<Trace>;
}

/** One revision of a procedure; the newest if none is given. */
export async function fetchRevision(id: string, revision: number | null, signal: AbortSignal): Promise<Answer<Procedure>> {
  return (await get(`procedures/${encodeURIComponent(id)}`, { revision }, signal)) as Answer<Procedure>;
}

/** Merges entries of the preparation into the assignment that a carriage has in force. */
export async function putPreparation(site: string, carriage: string, entries: PreparationEntries): Promise<Answer<AssignmentAnswer>> {
  return (await ask(`carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}/preparation`, { method: 'PUT', body: entries })) as Answer<AssignmentAnswer>;
}

export async function fetchAlarms(query: Query, signal: AbortSignal | null = null): Promise<Answer<CountedPage<Alarm>>> {
  return (await get('alarms', query, signal)) as Answer<CountedPage<Alarm>>;
}

/** Acknowledges, or adds a note to what is acknowledged already. */
export async function acknowledgeAlarm(id: string, body: { readonly by: string; readonly note?: string }): Promise<Answer<Alarm>> {
  return (await ask(`alarms/${encodeURIComponent(id)}/acknowledge`, { body })) as Answer<Alarm>;
}

/** `until` is Unix milliseconds. */
export async function shelveAlarm(id: string, body: { readonly until: number; readonly reason: string; readonly by: string }): Promise<Answer<Alarm>> {
  return (await ask(`alarms/${encodeURIComponent(id)}/shelve`, { body })) as Answer<Alarm>;
}

/** Brings a shelved alarm back before its time. */
export async function unshelveAlarm(id: string, by: string): Promise<Answer<Alarm>> {
  return (await ask(`alarms/${encodeURIComponent(id)}/unshelve`, { body: { by } })) as Answer<Alarm>;
}

/** Which alarms are acknowledged together; `cleared` limits this to cleared ones. */
export interface AcknowledgedTogether {
  readonly ids?: readonly string[];
  readonly run?: string;
  readonly carriage?: { readonly site: string; readonly carriage: string };
  readonly cleared?: true;
  readonly by: string;
  readonly note?: string;
}

/** Acknowledges many alarms in one step, and returns how many of them nobody had acknowledged before. */
export async function acknowledgeAlarms(body: AcknowledgedTogether): Promise<Answer<{ readonly acknowledged: number }>> {
  return (await ask('alarms/acknowledge', { body: { ...body } })) as Answer<{ readonly acknowledged: number }>;
}

/** Takes a carriage off the floor, until it sends again; 409 while it welds. */
export async function retireCarriage(site: string, carriage: string, by: string): Promise<Answer<unknown>> {
  return await send('DELETE', `carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}`, { by });
}

/** A page of a list, with the number of items on all pages. */
export interface CountedPage<T> extends Page<T> { readonly total: number }

export async function fetchRefused(query: Query, signal: AbortSignal): Promise<Answer<CountedPage<Refused>>> {
  return (await get('refused', query, signal)) as Answer<CountedPage<Refused>>;
}

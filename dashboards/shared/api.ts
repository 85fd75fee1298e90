import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Problem } from '../../shared/api-types/problem.js';
import type { ExcursionAnswer } from '../../shared/api-types/excursion.js';
import type { Run } from '../../shared/api-types/run.js';
import type { Trace } from '../../shared/api-types/trace.js';
import { hearDateHeader } from './now.js';

export interface Page<T> {
  readonly items: readonly T[];
  readonly next: string | null;
}

/** Why there is no answer: `status` is null where the service was not reached. */
export interface Failure {
  readonly status: number | null;
  readonly reason: string;
}

export type Answer<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly failure: Failure };

export type Query = Readonly<Record<string, string | number | null | undefined>>;

const patience = 20_000;

/** The answers' shapes are checked where they are made; here they are taken as described. */
async function get(path: string, query: Query, signal: AbortSignal | null, wait = patience): Promise<Answer<unknown>> {
  const params = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    if (value !== null && value !== undefined && value !== '') params.set(name, String(value));
  }
  const text = params.toString();
  const limit = AbortSignal.timeout(wait);
  const askedAt = Date.now();
  try {
    const response = await fetch(`api/${path}${text === '' ? '' : `?${text}`}`, {
      headers: { accept: 'application/json' },
      cache: 'no-store',
      signal: signal === null ? limit : AbortSignal.any([signal, limit]),
    });
    hearDateHeader(response.headers.get('date'), askedAt);
    const body: unknown = await response.json();
    if (response.ok) return { ok: true, value: body };
    return { ok: false, failure: { status: response.status, reason: (body as Problem).detail } };
  } catch (error) {
    if (signal?.aborted === true) throw error;
    const late = error instanceof DOMException && error.name === 'TimeoutError';
    return { ok: false, failure: { status: null, reason: late ? `The service did not answer within ${wait / 1000} s.` : 'The service was not reached.' } };
  }
}

export async function fetchHealth(wait: number): Promise<Answer<unknown>> {
  return await get('health', {}, null, wait);
}

/** Every carriage there is. */
export async function fetchCarriages(): Promise<Answer<readonly Carriage[]>> {
  const all: Carriage[] = [];
  let cursor: string | null = null;
  do {
    const answer = (await get('carriages', { limit: 1000, cursor }, null)) as Answer<Page<Carriage>>;
    if (!answer.ok) return answer;
    all.push(...answer.value.items);
    cursor = answer.value.next;
  } while (cursor !== null);
  return { ok: true, value: all };
}

export async function fetchRuns(query: Query, signal: AbortSignal): Promise<Answer<Page<Run>>> {
  return (await get('runs', query, signal)) as Answer<Page<Run>>;
}

export async function fetchRun(id: string, signal: AbortSignal): Promise<Answer<Run>> {
  return (await get(`runs/${encodeURIComponent(id)}`, {}, signal)) as Answer<Run>;
}

export async function fetchExcursions(id: string, signal: AbortSignal): Promise<Answer<Page<ExcursionAnswer>>> {
  return (await get(`runs/${encodeURIComponent(id)}/excursions`, {}, signal)) as Answer<Page<ExcursionAnswer>>;
}

export async function fetchTrace(id: string, query: Query, signal: AbortSignal): Promise<Answer<Trace>> {
  return (await get(`runs/${encodeURIComponent(id)}/trace`, query, signal)) as Answer<Trace>;
}

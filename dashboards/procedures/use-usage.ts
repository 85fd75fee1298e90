import type { ProcedureUsage } from '../../shared/api-types/procedure-usage.js';
import { useAnswer } from '../shared/use-answer.js';
import { fetchUsage } from './procedure-api.js';

/** By how many runs each revision is used; null until it is known, and where it can't be. */
export function useUsage(id: string): ProcedureUsage | null {
  return useAnswer(async (signal) => await fetchUsage(id, signal), [id]).value;
}

/** Runs that use the revision, or any of them. */
export function usedRuns({ runs, revisions }: ProcedureUsage, revision: number | null): number {
  return revision === null ? runs : (revisions.find((own) => own.revision === revision)?.runs ?? 0);
}

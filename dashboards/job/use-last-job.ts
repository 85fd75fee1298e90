import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { fetchRuns } from '../shared/api.js';
import { useAnswer } from '../shared/use-answer.js';

/** The current job, or else that of the carriage's newest run that had one; null if there was none, undefined while it is requested. It is requested once, because a form begins with it. */
export function useLastJob({ site, carriage, assignment }: Carriage): AssignmentAnswer | null | undefined {
  const has = assignment !== null;
  const { value, asking } = useAnswer(has ? null : async (signal) => await fetchRuns({ site, carriage, assigned: 'true', limit: 1 }, signal), [site, carriage, has], { by: [] });
  return assignment ?? (asking ? undefined : (value?.items[0]?.assignment ?? null));
}

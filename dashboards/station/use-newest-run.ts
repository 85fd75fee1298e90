import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchRuns } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { useAnswer } from '../shared/use-answer.js';

/** The carriage's newest run, open or finished; null if there is none, undefined while it is requested. It is requested again whenever a run begins or ends. */
export function useNewestRun({ site, carriage, run, welding }: Carriage): Run | null | undefined {
  const { value, failure } = useAnswer(welding ? null : async (signal) => await fetchRuns({ site, carriage, limit: 1 }, signal), [site, carriage], { by: [opened.value, run, welding] });
  return value === null && failure === null ? undefined : (value?.items[0] ?? null);
}

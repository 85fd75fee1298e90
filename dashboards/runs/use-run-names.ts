import type { RunNamesAnswer } from '../../shared/api-types/run.js';
import { fetchRunNames } from '../shared/api.js';
import { useAnswer } from '../shared/use-answer.js';

const none: RunNamesAnswer = { sites: [], carriages: [], seams: [], procedures: [], operators: [], lots: [] };

/** The names that runs can be filtered by. */
export function useRunNames(): RunNamesAnswer {
  return useAnswer(fetchRunNames, []).value ?? none;
}

import type { RunFiguresAnswer } from '../../../shared/api-types/figures.js';
import type { Run } from '../../../shared/api-types/run.js';
import { fetchRunFigures } from '../../shared/api.js';
import { useAnswer, type AnswerNow } from '../../shared/use-answer.js';

/** Where the figures of a run come from; asked once a dialog is open, and anew each time it opens. */
export function useRunFigures({ id, version, state }: Run, isOpen: boolean): AnswerNow<RunFiguresAnswer> {
  return useAnswer(isOpen ? async (signal) => await fetchRunFigures(id, signal) : null, [id, version, state, isOpen]);
}

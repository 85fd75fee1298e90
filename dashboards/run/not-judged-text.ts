import type { Run } from '../../shared/api-types/run.js';
import { wordsOf } from '../shared/words.js';
import { runWords } from './run-words.js';
import { windowWords } from './windows/window-words.js';

/** Why a run was not judged, in words; null if it was. Limits that applied to none of it have judged nothing, as with a run that is only arc start and crater. */
export function notJudgedText({ notJudged, assignment, procedure, lengths }: Pick<Run, 'notJudged' | 'assignment' | 'procedure' | 'lengths'>): string | null {
  const say = wordsOf(runWords);
  switch (notJudged) {
    case null:
      return lengths !== null && (lengths.inside ?? 0) + (lengths.outside ?? 0) === 0 ? say.whyNothing : null;
    case 'unassigned':
      return say.whyUnassigned;
    case 'noProcedure':
      return say.whyNoProcedure;
    case 'procedureUnknown':
      return say.whyUnknown(assignment?.procedure ?? '');
    case 'noLimits':
      return say.whyNoLimits(procedure === null ? (assignment?.procedure ?? '') : wordsOf(windowWords).revision(procedure.id, procedure.revision));
  }
}

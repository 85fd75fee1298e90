import type { PreparationAnswer } from '../../shared/answers/preparation-state.js';
import type { Carriage } from './carriage.js';
import type { FoldDeps } from './fold-deps.js';
import { assignmentInForce } from './intake.js';

/** What the assignment in force lacks; where it has not been welded by yet, by the newest revision, and without pinning that. Null without one. */
export function preparationInForce({ intake, runs }: Carriage, { procedures }: Pick<FoldDeps, 'procedures'>): PreparationAnswer | null {
  const last = intake.timeline.length - 1;
  const assignment = assignmentInForce(intake);
  if (assignment === null) return null;
  const pinned = runs.pinned.get(last);
  const newest = assignment.procedure === undefined ? null : procedures.newest(assignment.procedure);
  return procedures.preparation(assignment, pinned === undefined ? newest : pinned, [...intake.newestOfArc.keys()]);
}

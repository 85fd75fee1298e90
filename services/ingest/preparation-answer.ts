import type { PreparationAnswer } from '../../shared/answers/preparation-state.js';
import { preparationState } from '../../shared/answers/preparation-state.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import type { FoldDeps } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

/** What an assignment lacks by a revision of its procedure, and with the arcs that were seen; null without an assignment. */
export function preparationAnswer(assignment: Assignment | null, revision: number | null, arcs: readonly number[], deps: Pick<FoldDeps, 'procedures'>): PreparationAnswer | null {
  if (assignment === null) return null;
  const seen = arcs.join(' ');
  const held = answers.get(assignment);
  if (held?.revision === revision && held.seen === seen) return held.answer;
  const answer = preparationState(assignment, bodyOf(assignment, revision, deps), arcs);
  answers.set(assignment, { revision, seen, answer });
  return answer;
}

/** Of the assignment in force; where it has not been welded by yet, by the newest revision, and without pinning that. */
export function preparationInForce(stream: StreamState, deps: Pick<FoldDeps, 'procedures'>): PreparationAnswer | null {
  const last = stream.timeline.length - 1;
  const assignment = stream.timeline[last]?.body ?? null;
  if (assignment === null) return null;
  const pinned = stream.pinned.get(last);
  const revision = pinned === undefined ? newestRevision(assignment, deps) : pinned;
  return preparationAnswer(assignment, revision, [...stream.newestOfArc.keys()], deps);
}

function newestRevision(assignment: Assignment, { procedures }: Pick<FoldDeps, 'procedures'>): number | null {
  return assignment.procedure === undefined ? null : procedures.newest(assignment.procedure);
}

/** A revision never changes, nor does an assignment that was taken: the answer is made once, not with every telling. */
const answers = new WeakMap<Assignment, { readonly revision: number | null; readonly seen: string; readonly answer: PreparationAnswer }>();

function bodyOf({ procedure }: Assignment, revision: number | null, { procedures }: Pick<FoldDeps, 'procedures'>): string | undefined {
  return procedure === undefined || revision === null ? undefined : (procedures.body(procedure, revision) ?? undefined);
}

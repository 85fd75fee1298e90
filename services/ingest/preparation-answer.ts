import type { Assignment, ConfirmedEntry } from '../../shared/weld/assignment.js';
import { askedPreparation, confirmedEntries, missingOf } from '../../shared/weld/preparation.js';
import { isoTime } from '../../shared/weld/run-figures.js';
import type { MissingEntry, PreparationGroup } from '../../shared/weld/preparation.js';
import type { RunGroupOutline } from '../../shared/weld/procedure-parameters.js';
import { runGroupOf } from '../../shared/weld/procedure-parameters.js';
import type { FoldDeps } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

/** As much of a stored procedure as the preparation depends on. */
interface StoredGroups {
  readonly runGroups?: readonly (RunGroupOutline & PreparationGroup)[] | undefined;
}

export interface PreparationAnswer {
  readonly missing: readonly MissingEntry[];
  readonly confirmed: readonly Omit<ConfirmedEntry<string>, 'value'>[];
}

/** What an assignment lacks by a revision of its procedure, and with the arcs that were seen; null without an assignment. */
export function preparationAnswer(assignment: Assignment | null, revision: number | null, arcs: readonly number[], deps: Pick<FoldDeps, 'procedures'>): PreparationAnswer | null {
  if (assignment === null) return null;
  const seen = arcs.join(' ');
  const held = answers.get(assignment);
  if (held?.revision === revision && held.seen === seen) return held.answer;
  const asked = askedPreparation(assignment, groupOf(assignment, revision, deps), arcs);
  const confirmed = confirmedEntries(asked, assignment.preparation?.confirmed).map(({ entry, arc, by, at }) => ({ entry, arc, by, at: isoTime(at) }));
  const answer = { missing: asked.flatMap(missingOf), confirmed };
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

function groupOf(assignment: Assignment, revision: number | null, { procedures }: Pick<FoldDeps, 'procedures'>): PreparationGroup | undefined {
  if (assignment.procedure === undefined || revision === null) return undefined;
  const stored = procedures.body(assignment.procedure, revision);
  return stored === null ? undefined : runGroupOf((JSON.parse(stored) as StoredGroups).runGroups, assignment);
}

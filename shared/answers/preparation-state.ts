import type { Assignment, ConfirmedEntry } from '../weld/procedure/assignment.js';
import { askedPreparation, confirmedEntries, missingOf, type MissingEntry, type PreparationGroup } from '../weld/preparation/preparation.js';
import { runGroupOf, type RunGroupOutline } from '../weld/procedure/procedure-parameters.js';
import { isoTime } from '../weld/run/run-figures.js';

export interface PreparationAnswer {
  readonly missing: readonly MissingEntry[];
  readonly confirmed: readonly Omit<ConfirmedEntry<string>, 'value'>[];
}

/** As much of a stored procedure as the preparation depends on. */
interface StoredGroups {
  readonly runGroups?: readonly (RunGroupOutline & PreparationGroup)[] | undefined;
}

/** What an assignment lacks according to its procedure and the arcs that were seen, apart from measured temperatures (`withTemperatures`). `procedure` is the stored text of the revision, if there is one. */
export function preparationState(assignment: Assignment, procedure: string | undefined, arcs: readonly number[]): PreparationAnswer {
  const group = procedure === undefined ? undefined : runGroupOf((JSON.parse(procedure) as StoredGroups).runGroups, assignment);
  const asked = askedPreparation(assignment, group, arcs);
  const confirmed = confirmedEntries(asked, assignment.preparation?.confirmed).map(({ entry, arc, by, at }) => ({ entry, arc, by, at: isoTime(at) }));
  return { missing: asked.filter(({ entry }) => entry !== 'preheatMeasured').flatMap(missingOf), confirmed };
}

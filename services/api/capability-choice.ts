import type { RunValues } from '../../shared/answers/run-values.js';
import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import type { StoredProcedure } from '../../shared/records/procedures.js';
import { isOfArc, type CapabilityName } from '../../shared/weld/capability/capability-quantities.js';
import { runGroupOf } from '../../shared/weld/procedure/procedure-parameters.js';
import { runGroupName } from '../../shared/weld/procedure/run-group-name.js';
import type { Window } from '../../shared/weld/procedure/run-windows.js';
import { problemError } from './problem-error.js';

export type Groups = NonNullable<ProcedureBody['runGroups']>;

/** The run groups of a revision. */
export function groupsOf({ body }: StoredProcedure): Groups {
  return (JSON.parse(body) as ProcedureBody).runGroups ?? [];
}

/**
 * The run group that is meant, as the records of runs call it; null where the procedure has none. `revisions` are the groups of each revision, the newest first.
 * Left out it is the only one of the newest revision and of the runs; else a problem says which there are.
 */
export function chosenGroup(asked: string | undefined, revisions: readonly Groups[], runs: readonly RunValues[]): string | null {
  const named = revisions.map((groups) => groups.map((own) => runGroupName(groups, own)));
  const present = [...new Set([...(named[0] ?? []), ...runs.flatMap((own) => own.runGroup ?? [])])];
  const [only = null, another] = present;
  if (asked === undefined) {
    if (another === undefined) return only;
    throw wrong('runGroup', `must be given: ${choice(present)}`);
  }
  if (present.includes(asked) || named.some((names) => names.includes(asked))) return asked;
  throw wrong('runGroup', only === null ? 'must be left out: the procedure has no run groups' : `must be ${choice(present)}; got ${JSON.stringify(asked)}`);
}

/**
 * The arc that is meant, null for a quantity of the run. Left out it is the only one of the run group in the newest revision; where that names none, the only one of
 * the runs, or 1. Else a problem says which there are.
 */
export function chosenArc(asked: number | undefined, quantity: CapabilityName, groups: Groups, runGroup: string | null, runs: readonly RunValues[]): number | null {
  if (!isOfArc(quantity)) {
    if (asked === undefined) return null;
    throw wrong('arc', `must be left out: ${quantity} is a quantity of the run`);
  }
  if (asked !== undefined) return asked;
  const planned = groups.find((own) => runGroupName(groups, own) === runGroup)?.arcs?.map(({ arc }) => arc) ?? [];
  const arcs = planned.length > 0 ? planned : [...new Set(runs.flatMap((own) => own.arcs.map(({ arc }) => arc)))].sort((a, b) => a - b);
  const [only = 1, another] = arcs;
  if (another !== undefined) throw wrong('arc', `must be given: ${choice(arcs)}`);
  return only;
}

/** The limits by which a run was judged, from the groups of its revision; null where there are none. */
export function windowOf(groups: Groups, run: RunValues, quantity: CapabilityName, arc: number | null): Window | null {
  const group = run.run === null ? undefined : runGroupOf(groups, { run: run.run, side: run.side });
  const window = isOfArc(quantity) ? group?.arcs?.find((own) => own.arc === arc)?.[quantity] : group?.[quantity];
  return window ?? null;
}

function choice(values: readonly (string | number)[]): string {
  const texts = values.map((value) => JSON.stringify(value));
  return texts.length === 1 ? String(texts[0]) : `${texts.slice(0, -1).join(', ')} or ${texts.at(-1) ?? ''}`;
}

function wrong(field: string, reason: string): Error {
  return problemError(422, `${field}: ${reason}`, { fields: [{ field, reason }] });
}

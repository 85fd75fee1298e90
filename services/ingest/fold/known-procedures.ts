import { preparationState, type PreparationAnswer } from '../../../shared/answers/preparation-state.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { procedureParameters, type ProcedureOutline } from '../../../shared/weld/procedure/procedure-parameters.js';
import { noProcedure, type ProcedureParameters } from '../../../shared/weld/procedure/zone.js';

/** A revision as it was read; its body throws an error of damage if it differs from what was written. */
export interface KnownRevision {
  readonly revision: number;
  readonly body: () => string;
}

/** The stored procedures that anything in memory names. They must have been read before: a procedure that is not here does not exist. */
export interface KnownProcedures {
  has(name: string): boolean;
  /** Adds all revisions of a procedure in order; an empty list if there is no procedure of that name. */
  put(name: string, revisions: readonly KnownRevision[]): void;
  add(name: string, revision: number, body: string): void;
  newest(name: string): number | null;
  /** The parameters that a revision of its procedure gives an assignment. */
  parameters(assignment: Assignment | null, revision: number | null): ProcedureParameters;
  /** What an assignment lacks according to a revision of its procedure, given the arcs that were seen. */
  preparation(assignment: Assignment, revision: number | null, arcs: readonly number[]): PreparationAnswer;
  forgetAll(): void;
}

export function knownProcedures(): KnownProcedures {
  const known = new Map<string, readonly KnownRevision[]>();
  /** Neither a revision nor a received assignment ever changes: the parameters that they give together are computed once. */
  const parameters = new WeakMap<Assignment, { readonly revision: number; readonly parameters: ProcedureParameters }>();
  const preparations = new WeakMap<Assignment, { readonly revision: number | null; readonly seen: string; readonly answer: PreparationAnswer }>();

  function bodyOf({ procedure }: Assignment, revision: number | null): string | undefined {
    return procedure === undefined ? undefined : known.get(procedure)?.find((own) => own.revision === revision)?.body();
  }

  return {
    has: (name) => known.has(name),
    put: (name, revisions) => void known.set(name, revisions),
    add: (name, revision, body) => void known.set(name, [...(known.get(name) ?? []), { revision, body: () => body }]),
    newest: (name) => {
      const last = known.get(name)?.at(-1);
      last?.body();
      return last?.revision ?? null;
    },
    parameters: (assignment, revision) => {
      if (assignment === null || revision === null) return noProcedure;
      const held = parameters.get(assignment);
      if (held?.revision === revision) return held.parameters;
      const body = bodyOf(assignment, revision);
      if (body === undefined) return noProcedure;
      const made = procedureParameters(JSON.parse(body) as ProcedureOutline, assignment);
      parameters.set(assignment, { revision, parameters: made });
      return made;
    },
    preparation: (assignment, revision, arcs) => {
      const seen = arcs.join(' ');
      const held = preparations.get(assignment);
      if (held?.revision === revision && held.seen === seen) return held.answer;
      const answer = preparationState(assignment, bodyOf(assignment, revision), arcs);
      preparations.set(assignment, { revision, seen, answer });
      return answer;
    },
    forgetAll: () => { known.clear(); },
  };
}

import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { noProcedure, type ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { groupFor, zoneProcedure } from '../model/plain-windows.js';
import type { PlainProcedure } from '../model/plain-types.js';
import type { WindowProcedure } from '../model/window-types.js';
import type { CaseFile } from './case-format.js';
import { expandCase, type CaseMessage, type Payload } from './expand-case.js';

/** The procedure, in the revision that applies to one assignment. */
export interface AppliedProcedure {
  readonly procedure: WindowProcedure;
  readonly run: number;
  readonly side: number | undefined;
}

export interface JudgedCase {
  /** The case's messages; assignments name the procedure by its key in `applied`. */
  readonly messages: readonly CaseMessage[];
  readonly applied: ReadonlyMap<string, AppliedProcedure>;
}

const arcOnCurrent = 40;

const isLit = (payload: Payload): boolean => [payload['current']].flat().some((current) => Math.abs(Number(current)) >= arcOnCurrent);

/** When the arc first burns under an assignment, s; infinity if it never does. */
function litAfter(messages: readonly CaseMessage[], index: number): number {
  const rest = messages.slice(index + 1);
  const next = rest.findIndex((message) => message.kind === 'assignment');
  const own = next === -1 ? rest : rest.slice(0, next);
  const lit = own.find((message) => message.kind === 'readings' && [message.payload].flat().some(isLit));
  return lit?.kind === 'readings' ? lit.at : Number.POSITIVE_INFINITY;
}

/**
 * Replays without a service have no store of procedures: each assignment gets the revision that was in force when the arc was lit, under a separate
 * name. A procedure that does not exist keeps its name.
 */
export function judgedCase(file: CaseFile): JudgedCase {
  const messages = expandCase(file);
  const applied = new Map<string, AppliedProcedure>();
  const renamed = messages.map((message, index) => {
    if (message.kind !== 'assignment' || message.payload === null) return message;
    const { procedure: name, run, side } = message.payload as unknown as Assignment;
    const lit = litAfter(messages, index);
    const revisions = (file.revisions ?? []).filter(({ after, procedure }) => procedure.id === name && after < lit).map(({ procedure }) => procedure);
    const procedure = revisions.at(-1) ?? file.procedures?.find(({ id }) => id === name);
    if (procedure === undefined) return message;
    const key = JSON.stringify([name, revisions.length + 1, run, side ?? null]);
    applied.set(key, { procedure, run, side });
    return { ...message, payload: { ...message.payload, procedure: key } };
  });
  return { messages: renamed, applied };
}

/** The assignment with the procedure name that the case uses. */
export function asWritten(assignment: Assignment | null, applied: ReadonlyMap<string, AppliedProcedure>): Assignment | null {
  const known = applied.get(assignment?.procedure ?? '');
  return assignment === null || known === undefined ? assignment : { ...assignment, procedure: known.procedure.id };
}

/** The procedures in the form that the program takes. */
export function programProcedures(applied: JudgedCase['applied']): Map<string, ProcedureParameters> {
  return new Map([...applied].map(([key, { procedure, run, side }]) => [key, procedureParameters(procedure, { run, side })]));
}

/** The same for the run of an assignment, which a turn may have begun. */
export function programParameters(applied: JudgedCase['applied']): (assignment: Assignment | null) => ProcedureParameters {
  return (assignment) => {
    const own = applied.get(assignment?.procedure ?? '');
    return own === undefined || assignment === null ? noProcedure : procedureParameters(own.procedure, { run: assignment.run, side: own.side });
  };
}

/** The procedures in the form that the model takes. */
export function modelProcedures(applied: JudgedCase['applied']): Map<string, PlainProcedure> {
  return new Map([...applied].map(([key, { procedure, run, side }]) => [key, zoneProcedure(procedure, groupFor(procedure, run, side))]));
}

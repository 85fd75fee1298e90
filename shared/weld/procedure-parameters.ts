import type { Assignment } from './assignment.js';
import { noProcedure } from './zone.js';
import type { ProcedureParameters } from './zone.js';

/** As much of a procedure as zones, places and the heat input of a run depend on. */
export interface ProcedureOutline {
  readonly thermalEfficiency?: number | undefined;
  readonly runGroups?: readonly RunGroupOutline[] | undefined;
  readonly alarm?:
    | { readonly ignitionTime?: number | undefined; readonly ignitionLength?: number | undefined; readonly craterTime?: number | undefined }
    | undefined;
}

export interface RunGroupOutline {
  readonly side?: number | undefined;
  /** First and last run number. */
  readonly runs: readonly number[];
  readonly arcs?: readonly { readonly arc: number; readonly offset?: number | undefined }[] | undefined;
}

/** The first run group whose runs (and side, where both name one) fit. */
export function runGroupOf<T extends RunGroupOutline>(groups: readonly T[] | undefined, assignment: Pick<Assignment, 'run' | 'side'> | null): T | undefined {
  if (assignment === null) return undefined;
  const { run, side } = assignment;
  return groups?.find((group) => {
    const [first = Infinity, last = -Infinity] = group.runs;
    return run >= first && run <= last && (group.side === undefined || side === undefined || group.side === side);
  });
}

/** What a procedure means for one run of a seam; what it does not say is as without a procedure. */
export function procedureParameters(procedure: ProcedureOutline, assignment: Pick<Assignment, 'run' | 'side'> | null): ProcedureParameters {
  const arcs = runGroupOf(procedure.runGroups, assignment)?.arcs ?? [];
  return {
    thermalEfficiency: procedure.thermalEfficiency ?? noProcedure.thermalEfficiency,
    ignitionTime: procedure.alarm?.ignitionTime ?? noProcedure.ignitionTime,
    ignitionLength: procedure.alarm?.ignitionLength ?? noProcedure.ignitionLength,
    craterTime: procedure.alarm?.craterTime ?? noProcedure.craterTime,
    offsets: Object.fromEntries(arcs.map((own) => [own.arc, own.offset ?? 0])),
  };
}

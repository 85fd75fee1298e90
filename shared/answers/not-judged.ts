import type { Run } from '../api-types/run.js';
import type { Assignment } from '../weld/procedure/assignment.js';
import type { RunWindows, Window } from '../weld/procedure/run-windows.js';

/** Why no limits apply to a run, or null if some do. `revision` is that of the procedure it names, null if there is none of that name. */
export function notJudged(assignment: Assignment | null, revision: number | null, windows: RunWindows | null): Run['notJudged'] {
  if (assignment === null) return 'unassigned';
  if (assignment.procedure === undefined) return 'noProcedure';
  if (revision === null) return 'procedureUnknown';
  return windows !== null && hasLimit(windows) ? null : 'noLimits';
}

function hasLimit({ run, arcs }: RunWindows): boolean {
  const limits = (own: Window | undefined): boolean => own?.min !== undefined || own?.max !== undefined;
  return Object.values(run).some(limits) || Object.values(arcs).some((arc) => Object.values(arc).some(limits));
}

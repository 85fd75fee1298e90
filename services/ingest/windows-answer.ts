import type { RunWindows } from '../../shared/weld/run-windows.js';
import type { FoldDeps } from './fold-deps.js';
import { assignmentInForce } from './intake.js';
import type { Carriage } from './carriage.js';

/** The ranges that the procedure permits, in the form of the API; null without a run group that fits. */
export function windowsAnswer(windows: RunWindows | null): Record<string, unknown> | null {
  if (windows === null) return null;
  const arcs = Object.entries(windows.arcs).map(([arc, own]) => ({ arc: Number(arc), ...own }));
  return { arcs, ...windows.run };
}

/** Those by which the assignment in force would be judged if its arc were lit now. */
export function windowsInForce({ intake, runs }: Carriage, { procedures }: Pick<FoldDeps, 'procedures'>): RunWindows | null {
  const last = intake.timeline.length - 1;
  const assignment = assignmentInForce(intake);
  if (assignment?.procedure === undefined) return null;
  return procedures.parameters(assignment, runs.pinned.get(last) ?? procedures.newest(assignment.procedure)).windows;
}

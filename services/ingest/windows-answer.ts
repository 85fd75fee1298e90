import type { RunWindows } from '../../shared/weld/run-windows.js';
import type { FoldDeps } from './fold-deps.js';
import { parametersOf } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

/** The ranges that the procedure permits, in the form of the API; null without a run group that fits. */
export function windowsAnswer(windows: RunWindows | null): Record<string, unknown> | null {
  if (windows === null) return null;
  const arcs = Object.entries(windows.arcs).map(([arc, own]) => ({ arc: Number(arc), ...own }));
  return { arcs, ...windows.run };
}

/** Those by which the assignment in force would be judged if its arc were lit now. */
export function windowsInForce(stream: StreamState, deps: FoldDeps): RunWindows | null {
  const last = stream.timeline.length - 1;
  const assignment = stream.timeline[last]?.body ?? null;
  if (assignment?.procedure === undefined) return null;
  const revision = stream.pinned.get(last) ?? deps.procedures.newest(assignment.procedure);
  if (revision === null) return null;
  return parametersOf(assignment, revision, deps).windows;
}

import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import type { FoldDeps } from './fold-deps.js';
import type { Carriage } from './carriage.js';
import { entryOf, type OpenRun } from './run-book.js';

/** When a run that the fold still keeps open ends if nothing comes, µs of arrival: by its assignment, or because nothing has come for long. */
function runEndsAt({ kind, intake, fold }: Carriage, { epoch, lastOn, newest }: OpenRun, deps: FoldDeps): number {
  if (kind === 'log') return -Infinity;
  const { context } = fold;
  const { timeline } = intake;
  const { runEndAfter, unassignedRunEndAfter } = deps.settings;
  const seen = intake.lastSeen ?? deps.now();
  let end = seen + (context.assigned(epoch) ? runEndAfter : unassignedRunEndAfter) - (newest - lastOn);
  for (let next = entryIndex(epoch) + 1; next < timeline.length; next += 1) {
    const entry = timeline[next];
    if (entry === undefined || 'turnOf' in entry.anchor || context.sameRun(epoch, next)) continue;
    const later = timeline.findLastIndex((_, index) => context.sameRun(epoch, index));
    if (later < next) end = Math.min(end, 'after' in entry.anchor ? -Infinity : seen + (entry.anchor.time - newest));
  }
  return end;
}

export function hasEnded(carriage: Carriage, run: OpenRun, deps: FoldDeps): boolean {
  // If the clock was set back, runs end that had already ended when the newest item came, and no others.
  return Math.max(deps.now(), carriage.intake.lastSeen ?? deps.now()) >= runEndsAt(carriage, run, deps);
}

/** When the run recorded as being welded ends, µs of arrival; `Infinity` without one. */
export function openRunEndsAt(carriage: Carriage, deps: FoldDeps): number {
  const { open } = carriage.runs;
  return open !== null && entryOf(carriage.runs, open)?.finished === null ? runEndsAt(carriage, open, deps) : Infinity;
}

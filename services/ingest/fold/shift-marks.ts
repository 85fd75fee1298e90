import { shiftSilences } from './alarm-book.js';
import type { Carriage } from './carriage.js';
import { isLocked, type FoldDeps } from './fold-deps.js';
import { shiftCheckpoints } from './fold-state.js';
import { shiftIntake } from './intake.js';
import { noteNews } from './outbox.js';
import type { RunBook } from './run-book.js';

/**
 * Moves the times of arrival that a carriage goes on from, after the wall clock was set by `step` µs: so many seconds ago stays so many
 * seconds ago. Facts of the past keep the time that they were recorded with.
 */
export function shiftMarks({ intake, fold, runs, alarms, outbox }: Carriage, step: number, deps: FoldDeps): void {
  shiftEnds(runs, step, deps);
  shiftCheckpoints(fold, step);
  shiftSilences(alarms, step);
  shiftIntake(intake, step);
  if (intake.lastSeen !== null) noteNews(outbox);
}

/** The arrival at which runs were over that may still change. */
function shiftEnds({ entries }: RunBook, step: number, deps: FoldDeps): void {
  // As it was before the step.
  const before: FoldDeps = { ...deps, now: () => deps.now() - step };
  for (const entry of entries.values()) {
    if (entry.finished === null || isLocked(entry, before)) continue;
    entry.finished += step;
    entry.listed = null;
    deps.changes.runs.push({ finished: entry.finished, id: entry.id });
  }
}

import { shiftSilences } from './alarm-book.js';
import type { Carriage } from './carriage.js';
import { isLocked, type FoldDeps } from './fold-deps.js';
import { shiftCheckpoints } from './fold-state.js';
import { shiftIntake } from './intake.js';
import { noteNews } from './outbox.js';
import type { RunBook } from './run-book.js';

/**
 * Moves the arrival times from which a carriage continues, after the wall clock was set by `step` µs: what was a number of seconds ago stays so.
 * Facts of the past keep the time with which they were recorded.
 */
export function shiftMarks({ intake, fold, runs, alarms, outbox }: Carriage, step: number, deps: FoldDeps): void {
  shiftEnds(runs, step, deps);
  shiftCheckpoints(fold, step);
  shiftSilences(alarms, step);
  shiftIntake(intake, step);
  if (intake.lastSeen !== null) noteNews(outbox);
}

/** Moves the arrival times at which runs ended that may still change. */
function shiftEnds({ entries }: RunBook, step: number, deps: FoldDeps): void {
  // The clock as it was before the step.
  const before: FoldDeps = { ...deps, now: () => deps.now() - step };
  for (const entry of entries.values()) {
    if (entry.finished === null || isLocked(entry, before)) continue;
    entry.finished += step;
    entry.listed = null;
    deps.changes.runs.push({ finished: entry.finished, id: entry.id });
  }
}

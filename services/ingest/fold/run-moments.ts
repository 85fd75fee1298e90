import { isoTime } from '../../../shared/weld/run/run-figures.js';
import { darkSince, type RunState } from '../../../shared/weld/run/run-state.js';
import type { RunBook, RunEntry } from './run-book.js';

/** The moments that operators are asked about, by the carriage's clock. All but the newest run's id concern the run that is being welded. */
export interface RunMoments {
  /** The run began because the arc was lit far from where it had gone out: somebody should say whether it is the next run. */
  readonly litElsewhere: boolean;
  /** Never later than the run's first item, so that an assignment from then on covers the whole run. */
  readonly runStartedAt: string | null;
  /** Since when none of its arcs has burnt; null while one does. */
  readonly arcOutSince: string | null;
  readonly lastRun: string | null;
}

/** `run` is the run being welded; `burning` says whether one of its arcs burns. */
export function runMoments({ entries }: RunBook, run: RunState | null, burning: boolean): RunMoments {
  const dark = run === null || burning ? null : darkSince(run);
  let last: RunEntry | null = null;
  for (const entry of entries.values()) if (last === null || entry.start >= last.start) last = entry;
  return {
    litElsewhere: run?.litElsewhere ?? false,
    runStartedAt: run === null ? null : isoTime(Math.floor(run.start / 1e3) * 1e3),
    arcOutSince: dark === null ? null : isoTime(dark.outAt),
    lastRun: last?.id ?? null,
  };
}

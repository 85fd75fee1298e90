import { isoTime } from '../../../shared/weld/run/run-figures.js';
import { darkSince, type RunState } from '../../../shared/weld/run/run-state.js';
import type { RunBook, RunEntry } from './run-book.js';

/** When what is asked at the carriage happened, by its clock; of the run that is being welded, but for the newest one's id. */
export interface RunMoments {
  /** It began because the arc was lit far from where it had gone out: somebody should say whether it is the next run. */
  readonly litElsewhere: boolean;
  /** Never later than its first item, so that an assignment from then on takes the whole of it. */
  readonly runStartedAt: string | null;
  /** Since when no arc of it burns; null while one does. */
  readonly arcOutSince: string | null;
  readonly lastRun: string | null;
}

/** `run` is the one that is being welded, `burning` whether an arc of it burns. */
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

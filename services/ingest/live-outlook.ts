import type { Drift } from '../../shared/weld/drift/find-drifts.js';
import { findDrifts } from '../../shared/weld/drift/find-drifts.js';
import type { SecondMemory } from '../../shared/weld/drift/second-sums.js';
import { startSecondMemory } from '../../shared/weld/drift/second-sums.js';
import type { Outlook } from '../../shared/weld/outlook.js';
import { outlook } from '../../shared/weld/outlook.js';
import type { RunRowGroup } from '../../shared/weld/row.js';
import { rowLength } from '../../shared/weld/row.js';
import { tidy } from '../../shared/weld/run-figures.js';
import type { RunState } from '../../shared/weld/run-state.js';
import type { StreamState } from './stream-state.js';

const rowsPerSecond = 1e6 / rowLength;

interface Found {
  readonly ordinal: number;
  readonly second: number;
  readonly drifts: readonly Drift[];
  readonly memory: SecondMemory;
}

/** Drifts as they were found last, for the newest whole second of a run. */
const found = new WeakMap<StreamState, Found>();

/** What the run of a stream has before it, out of the last minute's rows. */
export function liveOutlook(stream: StreamState, run: RunState, rows: readonly RunRowGroup[]): { readonly outlook: Outlook; readonly drift: readonly Drift[] } {
  const assignment = stream.timeline[run.epoch]?.body ?? null;
  return {
    outlook: outlook({ assignment, sums: run.sums, travelled: run.travelled, gaps: run.gaps, rows }),
    drift: liveDrifts(stream, run, rows),
  };
}

/**
 * Drifts are found from the rows at hand each time, not kept along with the fold: a late item then needs nothing folded again, and no
 * checkpoint grows. They change by whole seconds only, so that they are found once a second.
 */
function liveDrifts(stream: StreamState, run: RunState, rows: readonly RunRowGroup[]): readonly Drift[] {
  const newest = rows.at(-1)?.run;
  if (newest === undefined || newest.on === 0) return [];
  const second = Math.floor(newest.index / rowsPerSecond);
  const before = found.get(stream);
  const sameRun = before?.ordinal === run.ordinal;
  if (sameRun && before.second === second) return before.drifts;
  const memory = sameRun ? before.memory : startSecondMemory();
  const drifts = tidy(findDrifts(rows, run.sums, memory));
  found.set(stream, { ordinal: run.ordinal, second, drifts, memory });
  return drifts;
}

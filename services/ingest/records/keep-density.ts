import type { ChangeSet } from '../../../shared/records/change-set.js';
import { densityList } from '../../../shared/weld/rows/density.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import type { RunEntry } from '../fold/run-book.js';

/** For how long the densities of a run that goes on are left as they were written, µs: each has some hundred cells, most of which change all the time. */
const keepEvery = 10_000_000;

/** When the densities of a run are written: `now` in µs of the steady clock; `must` once the run is over, or nothing comes any more. */
export interface DensityTurn {
  readonly now: number;
  readonly must: boolean;
}

/** Queues the densities of a run's arcs to be written, those that changed. Says whether they were left for later. */
export function keepDensity(entry: RunEntry, { density }: Pick<RunState, 'density'>, { now, must }: DensityTurn, changes: ChangeSet): boolean {
  const before = entry.density ?? null;
  if (!must && before !== null && now - before.at < keepEvery) return true;
  const cells = new Map<number, string>();
  for (const [arc, own] of Object.entries(density)) {
    const text = JSON.stringify(densityList(own));
    cells.set(Number(arc), text);
    if (before?.cells.get(Number(arc)) !== text) changes.densities.push({ run: entry.id, arc: Number(arc), cells: text });
  }
  // Late items or a late assignment may have left no sample of an arc. What was written before the run was read again is not known.
  if (before === null ? entry.recorded : [...before.cells.keys()].some((arc) => !cells.has(arc))) changes.densities.push({ run: entry.id, exceptFor: [...cells.keys()] });
  entry.density = { at: now, cells };
  return false;
}

import type { ChangeSet } from '../../../shared/records/change-set.js';
import { densityList } from '../../../shared/weld/rows/density.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import type { RunEntry } from '../fold/run-book.js';

/** How much a run goes on before the densities of its arcs are written again, µs: each has some hundred cells, most of which change all the time. */
const keepEvery = 10_000_000;

/** Queues the densities of a run's arcs to be written, those that changed. */
export function keepDensity(entry: RunEntry, { density, lastOn }: Pick<RunState, 'density' | 'lastOn'>, finished: boolean, changes: ChangeSet): void {
  const before = entry.density ?? null;
  if (!finished && before !== null && Math.abs(lastOn - before.at) < keepEvery) return;
  const cells = new Map<number, string>();
  for (const [arc, own] of Object.entries(density)) {
    const text = JSON.stringify(densityList(own));
    cells.set(Number(arc), text);
    if (before?.cells.get(Number(arc)) !== text) changes.densities.push({ run: entry.id, arc: Number(arc), cells: text });
  }
  // Late items or a late assignment may have left no sample of an arc. What was written before the run was read again is not known.
  if (before === null ? entry.recorded : [...before.cells.keys()].some((arc) => !cells.has(arc))) changes.densities.push({ run: entry.id, exceptFor: [...cells.keys()] });
  entry.density = { at: lastOn, cells };
}

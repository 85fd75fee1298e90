import { randomBytes } from 'node:crypto';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import { rowLength } from '../../../shared/weld/rows/row.js';
import { isLocked, pinRevision, type FoldDeps } from './fold-deps.js';
import type { Carriage } from './carriage.js';
import { assignmentOf } from './intake.js';
import { restartUnder } from './sums-under.js';
import { withdrawRelit } from './correct-relit-run.js';
import { findOrphan, type RunBook, type RunEntry } from './run-book.js';
import { knownUnder } from './run-temperature.js';

/** Index of the first row after everything in which an arc burnt. */
export function rowsEnd(lastOn: number): number {
  return Math.ceil(lastOn / rowLength);
}

/** A run as the fold begins it. */
type BegunRun = Pick<RunState, 'ordinal' | 'epoch' | 'start' | 'sensors' | 'before' | 'plate'>;

/** The entry of a run of the fold: its existing one, or the one that the same run had in an earlier fold (so that its id stays), or a new one. */
export function ensureEntry(carriage: Carriage, begun: BegunRun, deps: FoldDeps): RunEntry {
  const { intake, runs } = carriage;
  const { ordinal, epoch, start, sensors } = begun;
  const known = runs.entries.get(ordinal);
  if (known !== undefined) return known;
  const again = takeOrphan(runs, { epoch, start, assignment: assignmentOf(intake, epoch) });
  if (again !== null && !isLocked(again, deps)) {
    deps.traces.remove(again.id);
    runs.tails.delete(again.id);
    runs.cut.delete(again.id);
    again.sensors = sensors;
    again.under = restartUnder(again, knownUnder(carriage, again, begun, deps), deps);
  }
  const entry: RunEntry = again ?? {
    id: randomBytes(9).toString('base64url'),
    ordinal, epoch, start, sensors, attempt: 1, version: 1, revisedAt: null, finished: null,
    revision: pinRevision(runs, intake.timeline, epoch, deps), override: null, first: null, to: null, revise: false, lastOn: start, recorded: false, listed: null, excursions: null, pass: null, under: null,
  };
  entry.ordinal = ordinal;
  entry.epoch = epoch;
  entry.start = start;
  entry.sensors = sensors;
  runs.entries.set(ordinal, entry);
  return entry;
}

function takeOrphan(runs: RunBook, run: Parameters<typeof findOrphan>[1]): RunEntry | null {
  const found = findOrphan(runs, run);
  if (found !== null) runs.orphans.splice(runs.orphans.indexOf(found), 1);
  return found;
}

/** One more than the number of earlier runs of this carriage along the same seam under the same run number. */
export function attemptOf({ id }: Pick<Carriage, 'id'>, entry: RunEntry, assignment: Assignment | null, deps: FoldDeps): number {
  if (assignment === null) return 1;
  return 1 + deps.passes.countBefore(assignment, entry.id, { stream: id, started: entry.start });
}

/** Drops a run that a later item has disproved. */
export function dropEntry(carriage: Carriage, entry: RunEntry, deps: FoldDeps): void {
  const { id, runs } = carriage;
  withdrawRelit(carriage, entry, null, deps);
  if (runs.entries.get(entry.ordinal) === entry) runs.entries.delete(entry.ordinal);
  deps.changes.runs.push({ drop: entry.id });
  deps.passes.note(entry.id, { stream: id, started: entry.start }, entry.pass, null);
  deps.traces.remove(entry.id);
  runs.tails.delete(entry.id);
}

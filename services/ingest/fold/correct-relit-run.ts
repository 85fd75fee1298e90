import { correctFrom, withdrawCorrections } from '../../../shared/weld/run/assignment-timeline.js';
import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import { foldFromStart } from './checkpoints.js';
import type { Carriage } from './carriage.js';
import { pinRevision, type FoldDeps } from './fold-deps.js';
import type { RunEntry } from './run-book.js';
import { storeAssignment } from './store-assignment.js';

/**
 * A run that had ended and was lit again under a later assignment (`epoch`) to the same seam and run is corrected by that one's fields, and folded again if they
 * differ. Only another procedure changes the revision by which it is judged.
 */
export function correctRelitRun(carriage: Carriage, entry: RunEntry, epoch: number, deps: FoldDeps): void {
  const { intake: { timeline }, runs, fold } = carriage;
  if (epoch <= entry.epoch || !fold.context.sameRun(entry.epoch, epoch)) return;
  const welded = runs.pinned.get(entry.epoch);
  if (welded !== undefined && timeline[entryIndex(entry.epoch)]?.body?.procedure === timeline[entryIndex(epoch)]?.body?.procedure) runs.pinned.set(epoch, welded);
  const changed = correctFrom(timeline, entry.id, entry.epoch, epoch);
  if (changed.length === 0) return;
  for (const index of changed) storeAssignment(carriage, index, deps);
  if (entry.override === null) entry.revision = pinRevision(runs, timeline, epoch, deps);
  foldFromStart(carriage, deps);
}

/** Withdraws what a run was corrected by under an entry that it does not reach after all (`reached` null: it is no run at all); it is folded again then. */
export function withdrawRelit(carriage: Carriage, entry: RunEntry, reached: number | null, deps: FoldDeps): void {
  const { intake: { timeline }, runs } = carriage;
  const changed = withdrawCorrections(timeline, entry.id, reached);
  if (changed.length === 0) return;
  for (const { index, by } of changed) {
    storeAssignment(carriage, index, deps);
    // The later entry had been given the revision of the run.
    runs.pinned.delete(by);
  }
  foldFromStart(carriage, deps);
}

import type { Assignment, MaterialChange } from '../../../shared/weld/procedure/assignment.js';
import { enterPreparation } from '../../../shared/weld/preparation/enter-preparation.js';
import { mostMaterials } from '../../../shared/weld/decode/check-entries.js';
import { mergedGaps } from '../../../shared/weld/run/run-state.js';
import { meltedLength } from '../../../shared/weld/run/wire-mass.js';
import type { EnteredMaterial, EnteredPreparation, PortFailure, Signed } from '../../ingest-port.js';
import { assignStream } from './assign-stream.js';
import { carriageTime } from './enter-temperature.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import type { StreamMemory } from './stream-memory.js';
import type { Carriage } from '../fold/carriage.js';
import { openRun } from '../answers/publish-live-state.js';

/** A carriage and its assignment in force. */
export interface InForce {
  readonly carriage: Carriage;
  readonly inForce: Assignment;
}

/**
 * Merges entries of the preparation into the carriage's assignment in force, in one step: whoever plans the job may change it at the same time. Their time is by
 * the clock of the carriage, with which the preheat among them is compared as every measurement is.
 */
export function prepareStream({ carriage, inForce }: InForce, entered: EnteredPreparation, streams: StreamMemory): { readonly assignment: Assignment } {
  streams.hear(carriage);
  const assignment = enterPreparation(inForce, entered.change, entered.by, carriageTime(carriage.intake, streams.fold.now()));
  assignStream(carriage, assignment, assignment.time ?? null, streams.fold);
  return { assignment };
}

/** Adds a change of wire or flux to the carriage's assignment in force, with the carriage's position and what the run has melted so far. */
export function changeMaterial({ carriage, inForce }: InForce, entered: EnteredMaterial, { fold }: StreamMemory): PortFailure | { readonly assignment: Assignment } {
  const before = inForce.materials ?? [];
  if (before.length >= mostMaterials) return { failed: 'conflict', reason: `the assignment holds ${mostMaterials} changes of material already` };
  const { kind, lot, mass, by } = entered;
  const arc = kind === 'fluxRefilled' ? null : (entered.arc ?? 1);
  const run = openRun(carriage)?.run ?? null;
  const change: MaterialChange = {
    kind, arc, lot, mass, by,
    travelled: entered.travelled ?? run?.travelled ?? null,
    melted: run === null || arc === null ? null : meltedLength(run.sums.arcs[arc], mergedGaps(run.gaps)),
    at: wholeMilliseconds(fold.now()),
  };
  const assignment = { ...inForce, materials: [...before, change] };
  assignStream(carriage, assignment, assignment.time ?? null, fold);
  return { assignment };
}

/** Times in the interface are whole milliseconds. */
function wholeMilliseconds(time: number): number {
  return Math.floor(time / 1e3) * 1e3;
}

/** Records who gave, corrected or ended a job, when and why. */
export function keepJobChange(place: { readonly site: string; readonly carriage: string; readonly run: string | null }, before: Assignment | null, after: Assignment | null, signed: Signed, { changes, now }: Pick<FoldDeps, 'changes' | 'now'>): void {
  const text = (own: Assignment | null): string | null => (own === null ? null : JSON.stringify(own));
  if (text(before) === text(after)) return;
  changes.jobChanges.push({ site: place.site, carriage: place.carriage, run: place.run, at: now(), by: signed.by, reason: signed.reason, before: text(before), after: text(after) });
}

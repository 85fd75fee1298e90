import type { Assignment, MaterialChange } from '../../shared/weld/assignment.js';
import { mostMaterials } from '../../shared/weld/decode/check-entries.js';
import { mergedGaps } from '../../shared/weld/run-state.js';
import { meltedLength } from '../../shared/weld/wire-mass.js';
import type { EnteredMaterial, PortFailure, Signed } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import type { FoldDeps } from './fold-deps.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamState } from './stream-state.js';
import { runBeingWelded } from './tell-carriage.js';

/** The stream of a carriage and the assignment that it has in force, or why an entry cannot be made there. */
export function inForceOn(streams: StreamAccess, site: string, carriage: string, meant: { readonly seam: string | null; readonly run: number | null }): PortFailure | { readonly stream: StreamState; readonly inForce: Assignment } {
  const none: PortFailure = { failed: 'conflict', reason: `no assignment is in force on ${site}/${carriage}` };
  // Asking for a carriage makes it, and an entry alone makes none.
  if (streams.fold.statements.findStream.get(site, carriage, '') === undefined) return none;
  const stream = streams.stream(site, carriage, '');
  const inForce = stream.timeline.at(-1)?.body ?? null;
  if (inForce === null) return none;
  const { seam, run } = meant;
  if ((seam !== null && seam !== inForce.seam) || (run !== null && run !== inForce.run)) {
    return { failed: 'conflict', reason: `the assignment in force on ${site}/${carriage} is another one: seam ${inForce.seam}, run ${inForce.run}` };
  }
  return { stream, inForce };
}

/** Adds a change of wire or flux to the assignment that a carriage has in force, with where the carriage is and what the run has melted by then. */
export function changeMaterial(streams: StreamAccess, site: string, carriage: string, entered: EnteredMaterial): PortFailure | { readonly assignment: Assignment } {
  const found = inForceOn(streams, site, carriage, entered);
  if ('failed' in found) return found;
  const { stream, inForce } = found;
  const before = inForce.materials ?? [];
  if (before.length >= mostMaterials) return { failed: 'conflict', reason: `the assignment holds ${mostMaterials} changes of material already` };
  const { kind, lot, mass, by } = entered;
  const arc = kind === 'fluxRefilled' ? null : (entered.arc ?? 1);
  const run = runBeingWelded(stream) === null ? null : stream.live.head.merge.run;
  const change: MaterialChange = {
    kind, arc, lot, mass, by,
    travelled: entered.travelled ?? run?.travelled ?? null,
    melted: run === null || arc === null ? null : meltedLength(run.sums.arcs[arc], mergedGaps(run.gaps)),
    // Times of the outside are whole milliseconds.
    at: Math.floor(streams.fold.now() / 1e3) * 1e3,
  };
  const assignment = { ...inForce, materials: [...before, change] };
  assignStream(stream, assignment, assignment.time ?? null, streams.fold);
  return { assignment };
}

/** Keeps who gave, corrected or ended a job, when and why. */
export function keepJobChange(place: { readonly site: string; readonly carriage: string; readonly run: string | null }, before: Assignment | null, after: Assignment | null, signed: Signed, { statements, now }: Pick<FoldDeps, 'statements' | 'now'>): void {
  const text = (own: Assignment | null): string | null => (own === null ? null : JSON.stringify(own));
  if (text(before) === text(after)) return;
  statements.addJobChange.run(place.site, place.carriage, place.run, now(), signed.by, signed.reason, text(before), text(after));
}

import type { Assignment } from '../../shared/weld/assignment.js';
import { enterPreparation } from '../../shared/weld/enter-preparation.js';
import type { EnteredPreparation, PortFailure } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import type { StreamAccess } from './stream-access.js';

/**
 * Merges entries of the preparation into the assignment that a carriage has in force, in one step: who plans it may change it
 * at the same time.
 */
export function prepareStream(streams: StreamAccess, site: string, carriage: string, entered: EnteredPreparation): PortFailure | { readonly assignment: Assignment } {
  const { statements, now } = streams.fold;
  const none: PortFailure = { failed: 'conflict', reason: `no assignment is in force on ${site}/${carriage}` };
  // Asking for a carriage makes it, and an entry alone makes none.
  if (statements.streamByName.get(site, carriage, '') === undefined) return none;
  const stream = streams.stream(site, carriage, '');
  const inForce = stream.timeline.at(-1)?.body ?? null;
  if (inForce === null) return none;
  const { seam, run } = entered;
  if ((seam !== null && seam !== inForce.seam) || (run !== null && run !== inForce.run)) {
    return { failed: 'conflict', reason: `the assignment in force on ${site}/${carriage} is another one: seam ${inForce.seam}, run ${inForce.run}` };
  }
  // Times of the outside are whole milliseconds.
  const at = Math.floor(now() / 1e3) * 1e3;
  const assignment = enterPreparation(inForce, entered.change, entered.by, at);
  assignStream(stream, assignment, assignment.time ?? null, streams.fold);
  return { assignment };
}

import type { Assignment } from '../../shared/weld/assignment.js';
import { enterPreparation } from '../../shared/weld/enter-preparation.js';
import type { EnteredPreparation, PortFailure } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import { inForceOn } from './job-changes.js';
import type { StreamAccess } from './stream-access.js';

/**
 * Merges entries of the preparation into the assignment that a carriage has in force, in one step: who plans it may change it
 * at the same time.
 */
export function prepareStream(streams: StreamAccess, site: string, carriage: string, entered: EnteredPreparation): PortFailure | { readonly assignment: Assignment } {
  const found = inForceOn(streams, site, carriage, entered);
  if ('failed' in found) return found;
  const { stream, inForce } = found;
  streams.hear(stream);
  // Times of the outside are whole milliseconds.
  const at = Math.floor(streams.fold.now() / 1e3) * 1e3;
  const assignment = enterPreparation(inForce, entered.change, entered.by, at);
  assignStream(stream, assignment, assignment.time ?? null, streams.fold);
  return { assignment };
}

import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { enterPreparation } from '../../../shared/weld/preparation/enter-preparation.js';
import type { EnteredPreparation } from '../../ingest-port.js';
import { assignStream } from './assign-stream.js';
import type { InForce } from './job-changes.js';
import type { StreamMemory } from './stream-memory.js';

/** Merges entries of the preparation into the carriage's assignment in force, in one step: whoever plans the job may change it at the same time. */
export function prepareStream({ carriage, inForce }: InForce, entered: EnteredPreparation, streams: StreamMemory): { readonly assignment: Assignment } {
  streams.hear(carriage);
  // Times in the interface are whole milliseconds.
  const at = Math.floor(streams.fold.now() / 1e3) * 1e3;
  const assignment = enterPreparation(inForce, entered.change, entered.by, at);
  assignStream(carriage, assignment, assignment.time ?? null, streams.fold);
  return { assignment };
}

import type { PortFailure } from '../../ingest-port.js';
import type { InForce } from './job-changes.js';
import { unusedFor, type LeavingCarriage, type UnusedCarriage } from './retire-carriage.js';
import type { StreamAccess } from './stream-access.js';
import { assignmentInForce } from '../fold/in-force.js';

/** The stream of a carriage and its assignment in force, or why an entry cannot be made there. */
export function inForceOn(streams: StreamAccess, site: string, carriage: string, meant: { readonly seam: string | null; readonly run: number | null }): PortFailure | InForce {
  const none: PortFailure = { failed: 'conflict', reason: `no assignment is in force on ${site}/${carriage}` };
  // `stream` would create the carriage, and an entry must not do that.
  if (streams.statements.findStream.get(site, carriage, '') === undefined) return none;
  const stream = streams.stream(site, carriage, '');
  const inForce = assignmentInForce(stream);
  if (inForce === null) return none;
  const { seam, run } = meant;
  if ((seam !== null && seam !== inForce.seam) || (run !== null && run !== inForce.run)) {
    return { failed: 'conflict', reason: `the assignment in force on ${site}/${carriage} is another one: seam ${inForce.seam}, run ${inForce.run}` };
  }
  return { carriage: stream, inForce };
}

/** A carriage that is to be removed. */
export function gatherLeaving(streams: StreamAccess, site: string, carriage: string): PortFailure | LeavingCarriage {
  const { statements } = streams;
  const row = statements.streamByName.get(site, carriage, '');
  // `stream` would create the carriage.
  if (row === undefined || row.retired === 1) return { failed: 'notFound', reason: `there is no carriage ${site}/${carriage}` };
  const stream = streams.stream(site, carriage, '');
  return { carriage: stream, hasHistory: statements.hasHistory.get(stream.id, stream.id, stream.id, carriage, site) !== undefined };
}

/** The unused carriages, which are removed without anybody asking. */
export function gatherUnused({ statements, fold }: StreamAccess): UnusedCarriage[] {
  return statements.unusedCarriages.all(fold.now() - unusedFor);
}

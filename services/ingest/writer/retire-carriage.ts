import type { PortFailure } from '../../ingest-port.js';
import { assignStream } from './assign-stream.js';
import { saveAlarm } from '../alarms/save-alarm.js';
import { keyOf, type StreamMemory } from './stream-memory.js';
import type { Carriage } from '../fold/carriage.js';
import { noteNewsAtOnce } from '../fold/outbox.js';
import { isWelding } from '../answers/publish-live-state.js';
import { assignmentInForce } from '../fold/in-force.js';

export interface GoneCarriage {
  readonly site: string;
  readonly carriage: string;
}

/** How long after its last message a carriage that never welded and has no job is removed, µs; common practice, no source. */
export const unusedFor = 30 * 86_400e6;

/** A carriage that is to be removed, and whether it has runs or alarms. */
export interface LeavingCarriage {
  readonly carriage: Carriage;
  readonly hasHistory: boolean;
}

/**
 * Removes a carriage. A carriage without runs is deleted; one with runs is retired: its runs stay, and it is shown nowhere until it sends again. A
 * carriage that is welding is not removed.
 */
export function retireCarriage({ carriage: stream, hasHistory }: LeavingCarriage, streams: StreamMemory): PortFailure | GoneCarriage {
  const { site, carriage } = stream;
  if (isWelding(stream)) return { failed: 'conflict', reason: `${site}/${carriage} is welding; it can be removed when its arc is out` };
  if (hasHistory) retire(streams, stream);
  else forgetCarriage(streams, stream);
  return { site, carriage };
}

function retire(streams: StreamMemory, carriage: Carriage): void {
  const { fold } = streams;
  if (assignmentInForce(carriage) !== null) assignStream(carriage, null, null, fold);
  // Nothing else would end these alarms.
  for (const alarm of carriage.alarms.atHand.filter(({ quantity, returnedAt }) => (quantity === 'noData' || quantity === 'sequence') && returnedAt === null)) {
    saveAlarm(carriage, { ...alarm, returnedAt: Math.max(fold.now(), alarm.raisedAt) }, fold);
  }
  carriage.intake.retired = true;
  noteNewsAtOnce(carriage.outbox);
  streams.carriages = null;
}

function forgetCarriage(streams: StreamMemory, carriage: Carriage): void {
  streams.forget(carriage);
  streams.fold.changes.drops.push({ stream: carriage.id });
  streams.carriages = null;
}

/** A carriage that never welded, has no job, and has not sent for a month: a wrong name, or a trial. */
export interface UnusedCarriage extends GoneCarriage {
  readonly id: number;
}

export function forgetUnused(unused: readonly UnusedCarriage[], streams: StreamMemory): GoneCarriage[] {
  return unused.map(({ id, site, carriage }) => {
    const stream = streams.all.get(keyOf(site, carriage, ''));
    if (stream !== undefined) forgetCarriage(streams, stream);
    else streams.fold.changes.drops.push({ stream: id });
    return { site, carriage };
  });
}

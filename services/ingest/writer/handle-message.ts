import type { GatheredAssignment, GatheredMessage, GatheredReadings } from './gathered-message.js';
import { assignStream } from './assign-stream.js';
import { foldFresh } from '../fold/fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import { takesBack, type StreamMemory } from './stream-memory.js';
import type { Carriage } from '../fold/carriage.js';
import { keepRefusal, storeReadings, type TakenCounts } from './store-readings.js';
import { noteNews } from '../fold/outbox.js';

export interface IncomingCounts extends TakenCounts {
  unknownFields: number;
}

/** Handles one message. A message that this program cannot process is refused like any other, and delays no other. */
export function handleMessage(gathered: GatheredMessage, streams: StreamMemory, counts: IncomingCounts): void {
  const { message } = gathered;
  try {
    takeByKind(gathered, streams, counts);
  } catch (thrown) {
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    streams.log('error', `${message.topic}: ${thrown instanceof Error ? (thrown.stack ?? reason) : reason}`);
    refuse(message, `an error of the program: ${reason}`, streams, counts);
  }
}

function refuse({ topic, payload }: IncomingMessage, reason: string, { fold }: StreamMemory, counts: IncomingCounts): void {
  counts.refused += 1;
  keepRefusal({ topic, payload, arrived: fold.now() }, reason, fold.changes);
}

function takeByKind(gathered: GatheredMessage, streams: StreamMemory, counts: IncomingCounts): void {
  const { message } = gathered;
  if (gathered.kind === 'failed') throw gathered.error;
  if (gathered.kind === 'unaddressed') {
    if (gathered.reason !== '') refuse(message, gathered.reason, streams, counts);
    return;
  }
  const { kind, carriage } = gathered;
  // An empty message that clears a topic does not bring back a retired carriage: we may have sent it ourselves.
  if (message.payload.length === 0 && takesBack(kind) && carriage.intake.retired) return;
  streams.hear(carriage);
  if (kind === 'readings' || kind === 'senml') takeItems(gathered, message, streams, counts);
  else if (kind === 'assignment') takeAssignment(gathered, message, streams, counts);
  else if (kind === 'status') takeStatus(carriage, message, streams, counts);
  else {
    const sentOn = message.topic.slice(message.topic.lastIndexOf('/') + 1);
    refuse(message, `a retained message on ${sentOn}; ${sentOn} are accepted only as they are sent, not retained by the broker`, streams, counts);
  }
}

function takeItems({ carriage, kind, arrived, decoded, listed }: GatheredReadings, { topic, payload }: IncomingMessage, streams: StreamMemory, counts: IncomingCounts): void {
  const own = storeReadings(carriage, { topic, kind, payload, arrived }, decoded, listed, streams.fold);
  counts.stored += own.stored;
  counts.duplicate += own.duplicate;
  counts.refused += own.refused;
  counts.conflict += own.conflict;
  counts.unknownFields += decoded.unknownFields;
}

function takeAssignment(gathered: GatheredAssignment, message: IncomingMessage, streams: StreamMemory, counts: IncomingCounts): void {
  const { carriage, decoded } = gathered;
  if (decoded.kind === 'refused') {
    refuse(message, decoded.reason, streams, counts);
    return;
  }
  if (wasTaken(gathered, message, streams)) return;
  const { body, time } = decoded.kind === 'end' ? { body: null, time: decoded.time } : { body: decoded.assignment, time: decoded.assignment.time ?? null };
  // Earlier items belong to the previous assignment, so they have to be folded first.
  guardStream(carriage, streams, () => { foldFresh(carriage, streams.fold); });
  const assign = (): void => { assignStream(carriage, body, time, streams.fold, message.retained); };
  if (carriage.fold.fault === null) guardStream(carriage, streams, assign);
  else assign();
}

/**
 * Whether an assignment has been in force before. It carries no number by which a second copy could be recognised, and a broker that did not receive
 * our acknowledgement sends it again under the same packet id, maybe after others.
 */
function wasTaken({ carriage, known }: GatheredAssignment, { retained, delivery }: IncomingMessage, { fold: { changes } }: StreamMemory): boolean {
  if (delivery === undefined || known === null) return false;
  // A retained assignment arrives before the messages that wait in the session, among which it comes again in its place.
  if (retained && delivery.resumed && carriage.intake.timeline.length > 0) return true;
  if (known.before || (delivery.again && changes.taken.some((own) => own.stream === carriage.id && own.message === known.as))) return true;
  changes.taken.push({ stream: carriage.id, message: known.as });
  return false;
}

function takeStatus(carriage: Carriage, message: IncomingMessage, streams: StreamMemory, counts: IncomingCounts): void {
  const text = Buffer.from(message.payload).toString('utf8');
  if (text === 'online' || text === 'offline' || text === '') {
    carriage.intake.online = text === 'online';
    noteNews(carriage.outbox);
  } else {
    refuse(message, `status: got ${JSON.stringify(text.slice(0, 64))}; expected: online or offline`, streams, counts);
  }
}

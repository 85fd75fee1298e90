import { createHash } from 'node:crypto';
import { decodeAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../shared/weld/decode/decode-senml.js';
import { assignStream } from './assign-stream.js';
import { foldFresh } from './fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { IncomingMessage } from './mqtt/message-source.js';
import { isStorageError } from './storage-error.js';
import { takesBack } from './stream-access.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamState } from './stream-state.js';
import { takeMessage } from './take-items.js';
import type { TakenCounts } from './take-items.js';

export interface IncomingCounts extends TakenCounts {
  unknownFields: number;
}

/** First bytes of a message that are kept with its refusal. */
const keptHead = 256;

/**
 * Takes one message within the transaction at hand. One that this program can not cope with is refused like any other,
 * and holds up nobody; only errors of the storage are thrown.
 */
export function takeIncoming(message: IncomingMessage, streams: StreamAccess, counts: IncomingCounts): void {
  try {
    takeByKind(message, streams, counts);
  } catch (thrown) {
    if (isStorageError(thrown)) throw thrown;
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    streams.log('error', `${message.topic}: ${thrown instanceof Error ? (thrown.stack ?? reason) : reason}`);
    refuse(message, `an error of the program: ${reason}`, streams, counts);
  }
}

function refuse(message: IncomingMessage, reason: string, streams: StreamAccess, counts: IncomingCounts): void {
  counts.refused += 1;
  const { statements, now } = streams.fold;
  statements.refuse.run(now(), message.topic, reason, message.payload.length, Buffer.from(message.payload.subarray(0, keptHead)));
}

function takeByKind(message: IncomingMessage, streams: StreamAccess, counts: IncomingCounts): void {
  const empty = message.payload.length === 0;
  const addressed = streams.ofTopic(message.topic, empty);
  if ('reason' in addressed) {
    if (addressed.reason !== '') refuse(message, addressed.reason, streams, counts);
    return;
  }
  const { kind, stream } = addressed;
  // What is taken back at a topic is no word from a carriage that was retired: it may be ourselves.
  if (empty && takesBack(kind) && stream.retired) return;
  streams.hear(stream);
  if (kind === 'readings' || kind === 'senml') takeItems(stream, kind, message, streams, counts);
  else if (kind === 'assignment') takeAssignment(stream, message, streams, counts);
  else takeStatus(stream, message, streams, counts);
}

function takeItems(stream: StreamState, kind: 'readings' | 'senml', message: IncomingMessage, streams: StreamAccess, counts: IncomingCounts): void {
  if (message.retained) {
    refuse(message, `a retained message on ${kind}; ${kind} are accepted only as they are sent, not retained by the broker`, streams, counts);
    return;
  }
  const { topic, payload } = message;
  const arrived = streams.fold.now();
  const decoded = kind === 'senml' ? decodeSenml(payload, arrived) : decodeReadings(payload);
  const own = takeMessage(stream, { topic, kind, payload, arrived }, decoded, streams.fold);
  counts.stored += own.stored;
  counts.duplicate += own.duplicate;
  counts.refused += own.refused;
  counts.conflict += own.conflict;
  counts.unknownFields += decoded.unknownFields;
}

function takeAssignment(stream: StreamState, message: IncomingMessage, streams: StreamAccess, counts: IncomingCounts): void {
  const decoded = decodeAssignment(message.payload);
  if (decoded.kind === 'refused') {
    refuse(message, decoded.reason, streams, counts);
    return;
  }
  if (wasTaken(stream, message, streams)) return;
  const { body, time } = decoded.kind === 'end' ? { body: null, time: decoded.time } : { body: decoded.assignment, time: decoded.assignment.time ?? null };
  // What came before belongs to the assignment before, so it has to be folded first.
  guardStream(stream, streams, () => {
    foldFresh(stream, streams.fold);
  });
  const assign = (): void => {
    assignStream(stream, body, time, streams.fold);
  };
  if (stream.fault === null) guardStream(stream, streams, assign);
  else assign();
}

/**
 * An assignment carries no number by which a second copy could be told. A broker that did not hear our acknowledgement
 * sends it again under the same packet id, maybe after others: it has been in force and is over.
 */
function wasTaken(stream: StreamState, { payload, retained, delivery }: IncomingMessage, { fold: { statements } }: StreamAccess): boolean {
  if (delivery === undefined) return false;
  // What was kept at the topic runs ahead of what waits in the session, where it comes again in its place.
  if (retained && delivery.resumed && stream.timeline.length > 0) return true;
  const message = `${delivery.packetId} ${createHash('sha256').update(payload).digest('base64')}`;
  if (delivery.again && statements.tookAssignment.get(stream.id, message) !== undefined) return true;
  statements.noteAssignment.run(stream.id, message);
  statements.trimAssignments.run(stream.id, stream.id);
  return false;
}

function takeStatus(stream: StreamState, message: IncomingMessage, streams: StreamAccess, counts: IncomingCounts): void {
  const text = Buffer.from(message.payload).toString('utf8');
  if (text === 'online' || text === 'offline' || text === '') {
    stream.online = text === 'online';
    stream.unflushed = true;
  } else {
    refuse(message, `status: got ${JSON.stringify(text.slice(0, 64))}; expected: online or offline`, streams, counts);
  }
}

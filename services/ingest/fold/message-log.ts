import type { ChangeSet } from '../../../shared/records/change-set.js';
import { packKind, packMessages, type KeptMessage } from './message-log-format.js';
import type { Carriage } from './carriage.js';

/** Arrival numbers per kept message: an item's arrival number is the message's number times this, plus the item's position. */
export const arrivalsPerMessage = 1024;

/** Bytes of payload at which the gathered messages are written: a blob stays about as small as the largest message may be. */
const packAtBytes = 1024 * 1024;

type Kept = Pick<Carriage, 'id' | 'intake'>;

/** Keeps a message: it is gathered and written with the others of its stream at the end of the commit. */
export function logMessage({ id, intake }: Kept, message: KeptMessage, changes: ChangeSet): void {
  if (intake.gatheredBytes + message.payload.length > packAtBytes) writeMessageLog({ id, intake }, changes);
  intake.gathered.push(message);
  intake.gatheredBytes += message.payload.length;
}

/** Queues the gathered messages to be written: one row with a sum, even for one message. Earlier versions wrote a single message as it came. */
export function writeMessageLog({ id, intake }: Kept, changes: ChangeSet): void {
  const { gathered } = intake;
  const first = gathered[0];
  const last = gathered.at(-1);
  if (first === undefined || last === undefined) return;
  intake.gathered = [];
  intake.gatheredBytes = 0;
  changes.kept.push({ stream: id, number: last.number, first: first.number, arrived: first.arrived, kind: packKind, payload: packMessages(gathered) });
}

import { createHash } from 'node:crypto';
import { decodeAssignment } from '../../../shared/weld/decode/decode-assignment.js';
import type { DecodedMessage } from '../../../shared/weld/decode/decoded.js';
import { decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../../shared/weld/decode/decode-senml.js';
import type { Item } from '../../../shared/weld/items/item.js';
import { bootName, comparePositions, orderItem } from '../../../shared/weld/items/order.js';
import type { ListedWith } from '../fold/decided-run.js';
import type { GatheredAssignment, GatheredMessage, GatheredReadings } from './gathered-message.js';
import { arrivalsPerMessage } from '../fold/message-log.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import type { Statements } from '../store/statements.js';
import { isStorageError } from '../storage-error.js';
import type { StreamAccess } from './stream-access.js';
import { ensureNamed } from './stream-load.js';
import type { Carriage } from '../fold/carriage.js';
import type { CarriageFold } from '../fold/fold-state.js';

/** Reads everything needed to handle a message: its carriage, and the stored data that depends on its contents. Throws only errors of the storage. */
export function gatherMessage(message: IncomingMessage, streams: StreamAccess): GatheredMessage {
  try {
    const addressed = streams.ofTopic(message.topic, message.payload.length === 0);
    if ('reason' in addressed) return { message, kind: 'unaddressed', reason: addressed.reason };
    const { kind, carriage } = addressed;
    if (kind === 'status') return { message, kind, carriage };
    if (kind === 'assignment') return { message, ...gatherAssignment(carriage, message, streams) };
    if (message.retained) return { message, kind: 'retained', carriage };
    return { message, ...gatherReadings(carriage, kind, message, streams) };
  } catch (error) {
    if (isStorageError(error)) throw error;
    return { message, kind: 'failed', error };
  }
}

function gatherReadings(carriage: Carriage, kind: 'readings' | 'senml', { payload }: IncomingMessage, { fold, statements }: StreamAccess): GatheredReadings {
  const arrived = fold.now();
  const decoded = kind === 'senml' ? decodeSenml(payload, arrived) : decodeReadings(payload);
  gatherTimes(carriage, decoded, statements);
  const { floor } = carriage.fold;
  const listed = floor === null ? noItems : listedItems(carriage, floor, decoded, arrived, fold.numbers.message, fold.lateFor, statements);
  return { kind, carriage, arrived, decoded, listed };
}

const noItems: ReadonlyMap<Item, ListedWith> = new Map();

/** Reads which times of items without a sequence are already stored; a later time than all others cannot be. */
function gatherTimes({ id, intake }: Carriage, { items }: DecodedMessage, statements: Statements): void {
  for (const entry of items) {
    if (entry.kind === 'refused') continue;
    const { boot, seq, arc, time } = entry.item;
    if ((boot !== null && seq !== null) || time === null) continue;
    const newest = intake.newestTimes.get(arc);
    if ((newest === undefined || time <= newest) && statements.hasTime.get(id, arc, time) !== undefined) intake.knownTimes.add(`${arc} ${time}`);
  }
}

/** Lists an item from before the floor with the run that comes next in order, or else with the last run. */
function listedItems({ id, intake }: Carriage, floor: NonNullable<CarriageFold['floor']>, { items }: DecodedMessage, arrived: number, number: number, lateFor: number, statements: Statements): ReadonlyMap<Item, ListedWith> {
  const listed = new Map<Item, ListedWith>();
  for (const entry of items) {
    if (entry.kind === 'refused') continue;
    const boot = intake.boots.get(bootName(entry.item));
    if (boot === undefined || boot.rank > floor.rank) continue;
    const place = orderItem(entry.item, boot.rank, arrived, (number + 1) * arrivalsPerMessage);
    if (comparePositions(place, floor) > 0) continue;
    const before = arrived - lateFor;
    // A run before the floor no longer changes, whatever the clock says about its end.
    listed.set(
      entry.item,
      statements.decidedBehind.get(id, before, place.rank, place.key) ?? statements.lastDecided.get(id, before) ?? statements.runBefore.get(id, floor.ordinal) ?? 'none',
    );
  }
  return listed;
}

function gatherAssignment(carriage: Carriage, { payload, delivery }: IncomingMessage, { fold, statements }: StreamAccess): GatheredAssignment {
  const decoded = decodeAssignment(payload);
  if (decoded.kind === 'assignment') ensureNamed(decoded.assignment, statements, fold);
  if (delivery === undefined) return { kind: 'assignment', carriage, decoded, known: null };
  const as = `${delivery.packetId} ${createHash('sha256').update(payload).digest('base64')}`;
  return { kind: 'assignment', carriage, decoded, known: { as, before: delivery.again && statements.tookAssignment.get(carriage.id, as) !== undefined } };
}

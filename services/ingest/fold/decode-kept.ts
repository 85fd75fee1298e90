import { decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../../shared/weld/decode/decode-senml.js';
import { bootName, orderItem, type OrderedItem } from '../../../shared/weld/items/order.js';
import { arrivalsPerMessage } from './message-log.js';
import type { KeptMessage } from './message-log-format.js';
import { bootOf, type Intake } from './intake.js';

/** The items of a kept message that counted, with the arrival numbers given to them when they came. */
export function decodeKept(intake: Intake, message: KeptMessage): OrderedItem[] {
  const { number, arrived, kind, payload } = message;
  const decoded = kind === 'senml' ? decodeSenml(payload, arrived) : decodeReadings(payload);
  const taken = message.taken === null ? null : new Set(message.taken);
  const items: OrderedItem[] = [];
  decoded.items.forEach((entry, position) => {
    if (entry.kind !== 'item' || (taken !== null && !taken.has(position))) return;
    const { item } = entry;
    const { rank } = bootOf(intake, bootName(item));
    items.push(orderItem(item, rank, arrived, number * arrivalsPerMessage + position));
  });
  return items;
}

import type { DecodedItem, DecodedMessage } from '../../../shared/weld/decode/decoded.js';
import type { Item } from '../../../shared/weld/items/item.js';

/** The bytes of a text, or of the JSON of anything else. */
export function payloadOf(value: unknown): Uint8Array {
  return new TextEncoder().encode(typeof value === 'string' ? value : JSON.stringify(value));
}

/** The items of a message in which nothing may be refused. */
export function itemsOf(message: DecodedMessage): Item[] {
  return message.items.map((entry) => {
    if (entry.kind === 'refused') throw new Error(`refused: ${entry.reason}`);
    return entry.item;
  });
}

/** The only entry of a message, which must be a refusal. */
export function refusalOf(message: DecodedMessage): Extract<DecodedItem, { kind: 'refused' }> {
  const [entry, ...others] = message.items;
  if (entry?.kind !== 'refused' || others.length > 0) throw new Error(`not one refusal: ${JSON.stringify(message)}`);
  return entry;
}

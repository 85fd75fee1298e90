import type { Item } from '../items/item.js';
import { headOfValue } from './printable.js';

/** One item of a message: usable, or refused, with the reason and as much of its identity as could be read. */
export type DecodedItem =
  | { readonly kind: 'item'; readonly item: Item }
  | {
      readonly kind: 'refused';
      /** What was wrong, what was received and what is accepted, in words. */
      readonly reason: string;
      readonly boot: string | null;
      readonly seq: number | null;
      /** The first 256 characters of the item's JSON (or of the payload), made printable. */
      readonly head: string;
    };

/** The content of one message. A message that cannot be read at all is exactly one refused item. */
export interface DecodedMessage {
  readonly items: readonly DecodedItem[];
  /** The number of unknown fields (in SenML: fields and records); they were ignored. */
  readonly unknownFields: number;
}

/** The text of every refusal: the field, what it got, and what is accepted. */
export function wrongValue(field: string, got: unknown, taken: string): string {
  return `${field}: got ${headOfValue(got, 64)}; expected: ${taken}`;
}

export function missingValue(field: string, taken: string): string {
  return `${field}: missing; expected: ${taken}`;
}

/** A message with nothing usable in it. */
export function refusedMessage(reason: string, head: string): DecodedMessage {
  return { items: [{ kind: 'refused', reason, boot: null, seq: null, head }], unknownFields: 0 };
}

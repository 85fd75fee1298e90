import type { Item } from '../items/item.js';
import { headOfValue } from './printable.js';

/** One item of a message: usable, or refused with the reason and as much of its identity as could be read. */
export type DecodedItem =
  | { readonly kind: 'item'; readonly item: Item }
  | {
      readonly kind: 'refused';
      /** What was wrong, what was got and what is taken, in words. */
      readonly reason: string;
      readonly boot: string | null;
      readonly seq: number | null;
      /** The first 256 characters of the item's JSON (or of the payload), made printable. */
      readonly head: string;
    };

/** What one message held. A message that cannot be read at all is exactly one refused item. */
export interface DecodedMessage {
  readonly items: readonly DecodedItem[];
  /** Fields (of SenML: fields and records) that nobody here knows; they were ignored. */
  readonly unknownFields: number;
}

/** The words of every refusal: the field, what it got, and what is taken. */
export function wrongValue(field: string, got: unknown, taken: string): string {
  return `${field}: got ${headOfValue(got, 64)}; expected: ${taken}`;
}

export function missingValue(field: string, taken: string): string {
  return `${field}: missing; expected: ${taken}`;
}

/** A message of which nothing could be used. */
export function refusedMessage(reason: string, head: string): DecodedMessage {
  return { items: [{ kind: 'refused', reason, boot: null, seq: null, head }], unknownFields: 0 };
}

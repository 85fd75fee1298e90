import type { DecodedMessage } from '../../../shared/weld/decode/decoded.js';
import type { DecodedAssignment } from '../../../shared/weld/decode/decode-assignment.js';
import type { Item } from '../../../shared/weld/items/item.js';
import type { ListedWith } from '../fold/decided-run.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import type { Carriage } from '../fold/carriage.js';

/** A message with its carriage, decoded, and with what else has to be read before it can be taken. */
export type GatheredMessage = { readonly message: IncomingMessage } & (
  | { readonly kind: 'failed'; readonly error: unknown }
  /** It is refused, or where there are no words let be, before it is any carriage's. */
  | { readonly kind: 'unaddressed'; readonly reason: string }
  | GatheredReadings
  | GatheredAssignment
  | { readonly kind: 'retained' | 'status'; readonly carriage: Carriage }
);

export interface GatheredReadings {
  readonly kind: 'readings' | 'senml';
  readonly carriage: Carriage;
  /** µs since 1970. */
  readonly arrived: number;
  readonly decoded: DecodedMessage;
  /** With what those of its items are listed that belong before what was let go of. */
  readonly listed: ReadonlyMap<Item, ListedWith>;
}

export interface GatheredAssignment {
  readonly kind: 'assignment';
  readonly carriage: Carriage;
  readonly decoded: DecodedAssignment;
  /** By which it is known again where it comes from a broker that may send it again; whether it was there before. */
  readonly known: { readonly as: string; readonly before: boolean } | null;
}

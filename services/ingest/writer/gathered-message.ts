import type { DecodedMessage } from '../../../shared/weld/decode/decoded.js';
import type { DecodedAssignment } from '../../../shared/weld/decode/decode-assignment.js';
import type { Item } from '../../../shared/weld/items/item.js';
import type { ListedWith } from '../fold/decided-run.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import type { Carriage } from '../fold/carriage.js';

/** A decoded message with its carriage, and with everything else that had to be read to handle it. */
export type GatheredMessage = { readonly message: IncomingMessage } & (
  | { readonly kind: 'failed'; readonly error: unknown }
  /** The message is refused before it reaches a carriage, or ignored if the reason is empty. */
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
  /** The runs with which its items from before the floor are listed. */
  readonly listed: ReadonlyMap<Item, ListedWith>;
}

export interface GatheredAssignment {
  readonly kind: 'assignment';
  readonly carriage: Carriage;
  readonly decoded: DecodedAssignment;
  /** The key that identifies the message if an outside broker may send it again; whether it was handled before. */
  readonly known: { readonly as: string; readonly before: boolean } | null;
}

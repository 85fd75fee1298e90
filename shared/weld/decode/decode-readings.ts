import { sentNames } from '../quantities.js';
import { refusedMessage, wrongValue, type DecodedItem, type DecodedMessage } from './decoded.js';
import { isRaw, type Raw } from './field-rules.js';
import { mostItems } from './item-limits.js';
import { deepestNesting, largestPayload, nestsTooDeep, parsePayload } from './parse-json.js';
import { headOfPayload, headOfValue } from './printable.js';
import { readItem, usableBoot, usableSeq } from './read-item.js';
import { scanFrom, scanLists } from './scan-lists.js';

const taken = 'a reading or a block (a JSON object), or a list of 1 to 1000 of them';

const knownFields: ReadonlySet<string> = new Set(['boot', 'seq', 'time', 'arc', 'interval', ...sentNames]);

/**
 * Decodes a message of the kind `readings`: one reading, one block, or a list of either. A message that cannot be read is one refused item; in a
 * list, a bad item is refused alone and the others are kept. Never throws.
 */
export function decodeReadings(payload: Uint8Array): DecodedMessage {
  return (payload.length >= scanFrom ? decodeBlocks(payload) : null) ?? decodeParsed(payload);
}

/** Decodes with JSON.parse alone: this is slower on blocks, and defines the result that the faster way must give. */
export function decodeParsed(payload: Uint8Array): DecodedMessage {
  const parsed = parsePayload(payload);
  if (!parsed.ok) return refusedMessage(parsed.reason, parsed.head);
  return readMessage(parsed.value, payload);
}

// Null means that JSON.parse alone must decode it: scanning gains nothing, it is too large, or something in it is refused and needs its reason.
function decodeBlocks(payload: Uint8Array): DecodedMessage | null {
  if (payload.length > largestPayload) return null;
  const scanned = scanLists(payload);
  if (scanned === null) return null;
  const parsed = parsePayload(scanned.rest);
  if (!parsed.ok) return null;
  for (const entry of Array.isArray(parsed.value) ? (parsed.value as readonly unknown[]) : [parsed.value]) {
    if (isRaw(entry)) putBack(entry, scanned.lists);
  }
  const message = readMessage(parsed.value, payload);
  return message.items.every((entry) => entry.kind === 'item') ? message : null;
}

function putBack(raw: Record<string, unknown>, lists: readonly (readonly number[])[]): void {
  for (const field in raw) {
    const value = raw[field];
    if (Array.isArray(value) && knownFields.has(field)) raw[field] = lists[value[0] as number];
  }
}

function readMessage(value: unknown, payload: Uint8Array): DecodedMessage {
  if (!Array.isArray(value)) {
    if (!isRaw(value)) return refusedMessage(wrongValue('the payload', value, taken), headOfPayload(payload));
    const unknownFields = countUnknown(value);
    return { items: [decodeOne(value, unknownFields)], unknownFields };
  }
  if (value.length === 0) return refusedMessage(`the payload is an empty list; expected: ${taken}`, headOfPayload(payload));
  if (value.length > mostItems) {
    return refusedMessage(`the payload is a list of ${value.length}; expected: ${taken}`, headOfPayload(payload));
  }
  const items: DecodedItem[] = [];
  let unknownFields = 0;
  for (const entry of value as readonly unknown[]) {
    const unknown = isRaw(entry) ? countUnknown(entry) : 0;
    unknownFields += unknown;
    items.push(decodeOne(entry, unknown));
  }
  return { items, unknownFields };
}

function decodeOne(entry: unknown, unknownFields: number): DecodedItem {
  if (!isRaw(entry)) return refusedItem(wrongValue('the item', entry, 'a reading or a block (a JSON object)'), {}, entry);
  // Only an unknown field can nest at all: the known ones contain numbers, text and lists of numbers.
  if (unknownFields > 0 && nestsTooDeep(entry)) {
    return refusedItem(`the item nests deeper than ${deepestNesting}; expected: a reading or a block (a JSON object)`, entry, entry);
  }
  const item = readItem(entry);
  return typeof item === 'string' ? refusedItem(item, entry, entry) : { kind: 'item', item };
}

function refusedItem(reason: string, raw: Raw, entry: unknown): DecodedItem {
  return { kind: 'refused', reason, boot: usableBoot(raw.boot), seq: usableSeq(raw.seq), head: headOfValue(entry) };
}

function countUnknown(raw: Raw): number {
  let count = 0;
  for (const field in raw) if (!knownFields.has(field)) count += 1;
  return count;
}

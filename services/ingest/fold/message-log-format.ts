import { crc32 } from 'node:zlib';

/** A kept message: the payload as it came, with what is needed to process it again in the same way. */
export interface KeptMessage {
  /** Rises with every kept message, over all carriages; the arrival numbers of its items are derived from it. */
  readonly number: number;
  /** µs since 1970. */
  readonly arrived: number;
  readonly kind: 'readings' | 'senml';
  readonly payload: Uint8Array;
  /** Positions within the message of the items that counted, in ascending order; null if all of them did. */
  readonly taken: readonly number[] | null;
}

const kinds = ['readings', 'senml'] as const;
/** Written in place of the number of positions if all items counted; a message holds 1000 items at most. */
const allTaken = 0xffff;
/** The kind of a row that holds a pack with its sum. */
export const packKind = 'pack-crc32';
const sumSize = 4;
/** Bytes of a message before its positions. */
const headSize = 19;

/**
 * Messages of one stream in one blob, one after the other in the order of their numbers, little-endian:
 *
 * | bytes | what |
 * | --- | --- |
 * | 4 | the message's number less that of the first, unsigned |
 * | 8 | arrival, µs since 1970, as a double |
 * | 4 | length of the payload, unsigned |
 * | 1 | kind: 0 `readings`, 1 `senml` |
 * | 2 | how many positions counted, or 65535 for all |
 * | 2 each | those positions, unsigned |
 * | length | the payload as it came |
 *
 * After the last message comes the CRC-32 of everything before it (ISO 3309, as in zlib), 4 bytes; packs of the kind `pack` have none.
 */
export function packMessages(messages: readonly KeptMessage[]): Uint8Array {
  let size = sumSize;
  for (const { payload, taken } of messages) size += headSize + 2 * (taken?.length ?? 0) + payload.length;
  const pack = Buffer.allocUnsafeSlow(size);
  const first = messages[0]?.number ?? 0;
  let at = 0;
  for (const { number, arrived, kind, payload, taken } of messages) {
    at = pack.writeUInt32LE(number - first, at);
    at = pack.writeDoubleLE(arrived, at);
    at = pack.writeUInt32LE(payload.length, at);
    at = pack.writeUInt8(kinds.indexOf(kind), at);
    at = pack.writeUInt16LE(taken?.length ?? allTaken, at);
    if (taken !== null) for (const position of taken) at = pack.writeUInt16LE(position, at);
    pack.set(payload, at);
    at += payload.length;
  }
  pack.writeUInt32LE(crc32(pack.subarray(0, at)), at);
  return pack;
}

/** Unpacks what `packMessages` packed, from the message number `first` on. Throws RangeError if the sum differs or, without one, a message is cut. */
export function unpackMessages(blob: Uint8Array, first: number, summed = true): KeptMessage[] {
  const whole = Buffer.from(blob.buffer, blob.byteOffset, blob.length);
  const pack = summed ? whole.subarray(0, -sumSize) : whole;
  if (summed && (whole.length <= sumSize || whole.readUInt32LE(pack.length) !== crc32(pack))) throw new RangeError(`the pack of messages from ${first} on is other than its checksum says`);
  const messages: KeptMessage[] = [];
  let at = 0;
  while (at < pack.length) {
    const number = first + pack.readUInt32LE(at);
    const arrived = pack.readDoubleLE(at + 4);
    const length = pack.readUInt32LE(at + 12);
    const kind = kinds[pack.readUInt8(at + 16)];
    const count = pack.readUInt16LE(at + 17);
    at += headSize;
    const taken = count === allTaken ? null : Array.from({ length: count }, (_, index) => pack.readUInt16LE(at + 2 * index));
    at += 2 * (taken?.length ?? 0);
    if (kind === undefined || at + length > pack.length) throw new RangeError(`the pack of messages from ${first} on can not be read at byte ${at}`);
    messages.push({ number, arrived, kind, payload: pack.subarray(at, at + length), taken });
    at += length;
  }
  return messages;
}

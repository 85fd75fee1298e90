/** Control packet types, MQTT 3.1.1 table 2.1. */
export const CONNECT = 1;
export const PUBLISH = 3;
export const PUBACK = 4;
export const PINGREQ = 12;

/** A stretch of one control packet, as much of it as one read or write brought. */
export interface Piece {
  readonly bytes: Buffer;
  readonly type: number;
  /** The packet's remaining length: what follows the fixed header, bytes. */
  readonly length: number;
  /** Bytes of fixed header at the start of `bytes`; 0 in all but the first piece. */
  readonly header: number;
  readonly first: boolean;
  readonly last: boolean;
}

/** Type byte and up to four bytes of remaining length (MQTT 3.1.1, 2.2.3). */
const LONGEST_HEADER = 5;
const NOTHING = Buffer.alloc(0);

/** The fixed header that says `length`, keeping the type and flags of `firstByte`. */
export function fixedHeader(firstByte: number, length: number): Buffer {
  const bytes = [firstByte];
  let rest = length;
  do {
    const digit = rest % 128;
    rest = Math.floor(rest / 128);
    bytes.push(rest > 0 ? digit + 128 : digit);
  } while (rest > 0);
  return Buffer.from(bytes);
}

function readHeader(bytes: Buffer): { readonly length: number; readonly size: number } | null {
  let length = 0;
  let weight = 1;
  for (let i = 1; i < LONGEST_HEADER; i++) {
    const digit = bytes[i];
    if (digit === undefined) return null;
    length += (digit % 128) * weight;
    if (digit < 128) return { length, size: i + 1 };
    weight *= 128;
  }
  throw new Error('a packet whose remaining length has more than four bytes (MQTT 3.1.1, 2.2.3)');
}

/**
 * Finds the borders of control packets in a stream of bytes, without keeping the packets: only a fixed header that is cut
 * by the end of a chunk waits for the next one.
 *
 * @returns takes the next chunk; throws where the bytes can't be MQTT.
 */
export function packetFrames(onPiece: (piece: Piece) => void): (chunk: Buffer) => void {
  let cut = NOTHING;
  let type = 0;
  let length = 0;
  let left = 0;

  return (chunk) => {
    let at = 0;
    while (at < chunk.length) {
      if (left > 0) {
        const end = Math.min(chunk.length, at + left);
        left -= end - at;
        onPiece({ bytes: chunk.subarray(at, end), type, length, header: 0, first: false, last: left === 0 });
        at = end;
        continue;
      }
      const begun = cut.length > 0 ? Buffer.concat([cut, chunk.subarray(at, at + LONGEST_HEADER)]) : chunk.subarray(at);
      const header = readHeader(begun);
      if (header === null) {
        cut = Buffer.from(begun);
        return;
      }
      type = (begun[0] ?? 0) >> 4;
      length = header.length;
      const end = Math.min(chunk.length, at + header.size - cut.length + length);
      const part = chunk.subarray(at, end);
      const bytes = cut.length > 0 ? Buffer.concat([cut, part]) : part;
      cut = NOTHING;
      left = header.size + length - bytes.length;
      at = end;
      onPiece({ bytes, type, length, header: header.size, first: true, last: left === 0 });
    }
  };
}

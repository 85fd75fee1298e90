/** Control packet types, MQTT 3.1.1 table 2.1. */
export const CONNECT = 1;
export const PUBLISH = 3;
export const PUBACK = 4;
export const PINGREQ = 12;

/** A part of one control packet, as much of it as came in one read or write. */
export interface Piece {
  readonly bytes: Buffer;
  readonly type: number;
  /** The packet's remaining length: the bytes after the fixed header. */
  readonly length: number;
  /** How many bytes at the start of `bytes` are fixed header; 0 in all but the first piece. */
  readonly header: number;
  readonly first: boolean;
  readonly last: boolean;
}

/** Type byte and up to four bytes of remaining length (MQTT 3.1.1, 2.2.3). */
const LONGEST_HEADER = 5;
const NOTHING = Buffer.alloc(0);

/** A fixed header with the given `length`, and with the type and flags of `firstByte`. */
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

/** Size of the fixed header at `at`, bytes; 0 if it is not complete yet. */
function headerSize(bytes: Buffer, at: number): number {
  for (let i = 1; i < LONGEST_HEADER; i++) {
    const digit = bytes[at + i];
    if (digit === undefined) return 0;
    if (digit < 128) return i + 1;
  }
  throw new Error('a packet whose remaining length has more than four bytes (MQTT 3.1.1, 2.2.3)');
}

function remainingLength(bytes: Buffer, at: number, size: number): number {
  let length = 0;
  for (let i = size - 1; i > 0; i--) length = length * 128 + ((bytes[at + i] ?? 0) % 128);
  return length;
}

/** Selects packets that need not be looked at singly, by type and remaining length in bytes. */
export type Passes = (type: number, length: number) => boolean;

/**
 * Finds the borders of control packets in a stream of bytes, without keeping the packets: only a fixed header that the end of a chunk cuts in two
 * waits for the next chunk.
 *
 * @param passes if given, the packets that it selects are joined with their neighbours and go to `onPassed`.
 * @returns a function that takes the next chunk; it throws if the bytes cannot be MQTT.
 */
export function packetFrames(onPiece: (piece: Piece) => void, passes: Passes = () => false, onPassed: (bytes: Buffer) => void = () => undefined): (chunk: Buffer) => void {
  let cut = NOTHING;
  let type = 0;
  let length = 0;
  let left = 0;
  let passing = false;

  return (chunk) => {
    let at = 0;
    /** Where the passing bytes begin that have not been handed on. */
    let from = 0;
    const handOn = (): void => {
      if (at > from) onPassed(from === 0 && at === chunk.length ? chunk : chunk.subarray(from, at));
    };
    while (at < chunk.length) {
      if (left > 0) {
        const end = Math.min(chunk.length, at + left);
        left -= end - at;
        if (!passing) {
          handOn();
          onPiece({ bytes: chunk.subarray(at, end), type, length, header: 0, first: false, last: left === 0 });
          from = end;
        }
        at = end;
        continue;
      }
      const begun = cut.length > 0 ? Buffer.concat([cut, chunk.subarray(at, at + LONGEST_HEADER)]) : chunk;
      const base = cut.length > 0 ? 0 : at;
      const size = headerSize(begun, base);
      if (size === 0) {
        handOn();
        cut = Buffer.from(begun.subarray(base));
        return;
      }
      type = (begun[base] ?? 0) >> 4;
      length = remainingLength(begun, base, size);
      passing = passes(type, length);
      const end = Math.min(chunk.length, at + size - cut.length + length);
      left = size + length - cut.length - (end - at);
      if (passing && cut.length === 0) {
        at = end;
        continue;
      }
      handOn();
      const part = chunk.subarray(at, end);
      const bytes = cut.length > 0 ? Buffer.concat([cut, part]) : part;
      cut = NOTHING;
      at = end;
      from = end;
      if (passing) onPassed(bytes);
      else onPiece({ bytes, type, length, header: size, first: true, last: left === 0 });
    }
    handOn();
  };
}

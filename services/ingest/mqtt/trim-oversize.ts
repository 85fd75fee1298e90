import { fixedHeader, PUBLISH, type Piece } from './packet-frames.js';

/** Longest packet that is passed on whole, bytes of remaining length: eight times the longest message of the interface. */
export const LONGEST_PACKET = 8 * 1024 * 1024;

/** How much of a longer packet is kept: more than a message may have, so that it is refused for its size and its beginning is stored. */
export const KEPT_OF_OVERSIZE = 1024 * 1024 + 128 * 1024;

/**
 * Cuts a PUBLISH that is too long down to its beginning, so that it can be refused, stored with its beginning and acknowledged like any bad message,
 * and never fills the memory. Closing the connection instead would only make the client send it again.
 *
 * @param onTrimmed called with the remaining length in bytes as it was sent.
 * @returns a function that returns the piece to be passed on, or null if it is left out. It throws on any other packet that is too long.
 */
export function trimOversize(onTrimmed: (length: number) => void): (piece: Piece) => Piece | null {
  let left = 0;
  return (piece) => {
    if (piece.length <= LONGEST_PACKET) return piece;
    if (piece.type !== PUBLISH) throw new Error(oversizeReason(piece.length));
    let body = piece.bytes;
    let header: Buffer = Buffer.alloc(0);
    if (piece.first) {
      onTrimmed(piece.length);
      left = KEPT_OF_OVERSIZE;
      header = fixedHeader(piece.bytes[0] ?? 0, left);
      body = piece.bytes.subarray(piece.header);
    } else if (left === 0) {
      return null;
    }
    const kept = body.subarray(0, left);
    left -= kept.length;
    const { type, first } = piece;
    return { bytes: Buffer.concat([header, kept]), type, length: KEPT_OF_OVERSIZE, header: header.length, first, last: left === 0 };
  };
}

export function oversizeReason(length: number): string {
  return `a packet of ${length} bytes; at most ${LONGEST_PACKET} are accepted`;
}

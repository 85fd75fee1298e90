import { inOrder } from './in-order.js';
import { packetFrames, PUBACK, type Piece } from './packet-frames.js';

export interface PubackGate {
  /**
   * Announces that a QoS 1 message with this packet id was handed on, before its PUBACK is written. Returns what lets that
   * PUBACK through, whether it has been written by then or not.
   */
  expect(messageId: number): () => void;
  /** Bytes on their way to the broker. Throws on a PUBACK that nothing announced. */
  write(chunk: Buffer): void;
  /** PUBACKs announced that have not gone out. */
  held(): number;
}

interface Awaited {
  readonly messageId: number;
  packet: Buffer | null;
  covered: boolean;
  readonly settle: () => void;
}

/**
 * Stands between an MQTT client and its socket: holds back each PUBACK until the commit that covers it, and lets all else
 * pass. The client library may so believe a message acknowledged at once and take the next one, while the broker keeps it.
 * Packets that are written in pieces are put together again. One gate belongs to one connection, for packet ids are used
 * anew on the next.
 *
 * @param send puts bytes, always whole packets or stretches of one in turn, on the wire.
 */
export function pubackGate(send: (bytes: Buffer) => void): PubackGate {
  const order = inOrder();
  const unwritten: Awaited[] = [];
  let held = 0;
  let pieces: Buffer[] = [];

  function arrived(packet: Buffer, header: number): void {
    const messageId = packet.readUInt16BE(header);
    const awaited = unwritten.shift();
    // One that nobody handed on must not go out: its message would be lost without having been seen.
    if (awaited?.messageId !== messageId) throw new Error(`a PUBACK for packet ${messageId}, which nothing announced`);
    awaited.packet = packet;
    if (awaited.covered) awaited.settle();
  }

  let header = 0;
  const frames = packetFrames((piece: Piece) => {
    if (piece.type !== PUBACK) {
      send(piece.bytes);
      return;
    }
    if (piece.first) header = piece.header;
    pieces.push(piece.bytes);
    if (!piece.last) return;
    const packet = Buffer.concat(pieces);
    pieces = [];
    arrived(packet, header);
  });

  return {
    expect(messageId) {
      held += 1;
      const settle = order.enter(() => {
        held -= 1;
        if (awaited.packet !== null) send(awaited.packet);
      });
      const awaited: Awaited = { messageId, packet: null, covered: false, settle };
      unwritten.push(awaited);
      return () => {
        if (awaited.covered) return;
        awaited.covered = true;
        if (awaited.packet !== null) settle();
      };
    },
    write: frames,
    held: () => held,
  };
}

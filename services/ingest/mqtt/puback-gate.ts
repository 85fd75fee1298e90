import { packetFrames, PUBACK, type Piece } from './packet-frames.js';

export interface PubackGate {
  /**
   * Announces that a QoS 1 message with this packet id was handed on, before its PUBACK is written. Returns the function that releases that PUBACK,
   * whether or not it has been written by then.
   */
  expect(messageId: number): () => void;
  /** Bytes on their way to the broker. Throws on a PUBACK that nothing announced. */
  write(chunk: Buffer): void;
  /** How many announced PUBACKs have not gone out. */
  held(): number;
}

interface Awaited {
  readonly messageId: number;
  packet: Buffer | null;
  covered: boolean;
}

/** Finished entries are removed when there are this many of them. */
const MOST_DONE = 1_024;

/**
 * Sits between an MQTT client and its socket: holds back each PUBACK until the commit that covers it, and lets everything else pass. So the client
 * library can consider a message acknowledged at once and deliver the next one, while the broker keeps the message. Packets written in pieces are put
 * together again. Each gate belongs to one connection, because packet ids are reused on the next.
 *
 * @param send writes bytes to the wire: always whole packets, or consecutive parts of one.
 */
export function pubackGate(send: (bytes: Buffer) => void): PubackGate {
  // In the order of the messages: PUBACKs are written in it, and must leave in it, whatever the order of commits ([MQTT-4.6.0-2]).
  let row: Awaited[] = [];
  let gone = 0;
  let written = 0;
  let pieces: Buffer[] = [];

  function arrived(packet: Buffer, header: number): void {
    const messageId = packet.readUInt16BE(header);
    const awaited = row[written];
    // A PUBACK for a message that was not handed on must not go out: the message would be lost without having been seen.
    if (awaited?.messageId !== messageId) throw new Error(`a PUBACK for packet ${messageId}, which nothing announced`);
    written += 1;
    awaited.packet = packet;
    letOut();
  }

  function letOut(): void {
    for (let next = row[gone]; next !== undefined && next.covered && next.packet !== null; next = row[gone]) {
      send(next.packet);
      gone += 1;
    }
    if (gone < MOST_DONE) return;
    row = row.slice(gone);
    written -= gone;
    gone = 0;
  }

  let header = 0;
  const frames = packetFrames(
    (piece: Piece) => {
      if (piece.first) header = piece.header;
      if (piece.first && piece.last) {
        arrived(piece.bytes, header);
        return;
      }
      pieces.push(piece.bytes);
      if (!piece.last) return;
      const packet = Buffer.concat(pieces);
      pieces = [];
      arrived(packet, header);
    },
    (type) => type !== PUBACK,
    send,
  );

  return {
    expect(messageId) {
      const awaited: Awaited = { messageId, packet: null, covered: false };
      row.push(awaited);
      return () => {
        awaited.covered = true;
        letOut();
      };
    },
    write: frames,
    held: () => row.length - gone,
  };
}

import fc from 'fast-check';
import { generate, type Packet } from 'mqtt-packet';
import { describe, expect, it } from 'vitest';
import { fixedHeader, packetFrames, type Piece } from '../../../services/ingest/mqtt/packet-frames.js';

/** Cuts bytes at the given places, which may repeat. */
function cutAt(bytes: Buffer, places: readonly number[]): Buffer[] {
  const borders = [0, ...places.map((place) => place % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  return borders.slice(1).map((to, i) => bytes.subarray(borders[i] ?? 0, to));
}

const packets: fc.Arbitrary<Packet> = fc.oneof(
  fc.record({ topic: fc.constantFrom('weld/a/b/readings', 'x'), size: fc.nat(400), id: fc.integer({ min: 1, max: 65_535 }) }).map(
    ({ topic, size, id }): Packet => ({ cmd: 'publish', topic, payload: Buffer.alloc(size, 7), qos: 1, dup: false, retain: false, messageId: id }),
  ),
  fc.integer({ min: 1, max: 65_535 }).map((messageId): Packet => ({ cmd: 'puback', messageId })),
  fc.constant<Packet>({ cmd: 'pingreq' }),
);

describe('borders of control packets', () => {
  it('puts together what mqtt-packet wrote, wherever it was cut', () => {
    fc.assert(
      fc.property(fc.array(packets, { maxLength: 12 }), fc.array(fc.nat(), { maxLength: 30 }), (list, cuts) => {
        const written = list.map((packet) => generate(packet));
        const found: Buffer[] = [];
        let pieces: Piece[] = [];
        const frames = packetFrames((piece) => {
          expect(piece.first).toBe(pieces.length === 0);
          pieces.push(piece);
          if (!piece.last) return;
          found.push(Buffer.concat(pieces.map(({ bytes }) => bytes)));
          pieces = [];
        });
        for (const chunk of cutAt(Buffer.concat(written), cuts)) frames(chunk);
        expect(found).toEqual(written);
      }),
    );
  });

  it('refuses a remaining length of more than four bytes (MQTT 3.1.1, 2.2.3)', () => {
    const frames = packetFrames(() => undefined);
    expect(() => {
      frames(Buffer.from([0x30, 0x80, 0x80, 0x80, 0x80, 0x01]));
    }).toThrow(/more than four bytes/);
    // The same, byte by byte.
    const slowly = packetFrames(() => undefined);
    expect(() => {
      for (const byte of [0x30, 0xff, 0xff, 0xff, 0xff]) slowly(Buffer.from([byte]));
    }).toThrow(/more than four bytes/);
  });

  it('writes the lengths of the examples in MQTT 3.1.1, table 2.4', () => {
    const lengths: [number, number[]][] = [
      [0, [0x00]], [127, [0x7f]], [128, [0x80, 0x01]], [16_383, [0xff, 0x7f]], [16_384, [0x80, 0x80, 0x01]],
      [2_097_151, [0xff, 0xff, 0x7f]], [2_097_152, [0x80, 0x80, 0x80, 0x01]], [268_435_455, [0xff, 0xff, 0xff, 0x7f]],
    ];
    for (const [length, bytes] of lengths) expect([...fixedHeader(0x30, length)]).toEqual([0x30, ...bytes]);
  });
});

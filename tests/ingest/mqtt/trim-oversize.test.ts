import { generate, parser, type IPublishPacket } from 'mqtt-packet';
import { describe, expect, it } from 'vitest';
import { packetFrames } from '../../../services/ingest/mqtt/packet-frames.js';
import { KEPT_OF_OVERSIZE, LONGEST_PACKET, trimOversize } from '../../../services/ingest/mqtt/trim-oversize.js';

function passed(packets: readonly Buffer[], chunk: number) {
  const out: IPublishPacket[] = [];
  const trimmed: number[] = [];
  const reader = parser();
  reader.on('packet', (packet) => {
    if (packet.cmd === 'publish') out.push(packet);
  });
  const trim = trimOversize((length) => trimmed.push(length));
  const frames = packetFrames((piece) => {
    const kept = trim(piece);
    if (kept !== null) reader.parse(kept.bytes);
  });
  const bytes = Buffer.concat(packets);
  for (let at = 0; at < bytes.length; at += chunk) frames(bytes.subarray(at, at + chunk));
  return { out, trimmed };
}

const message = (payload: Buffer, messageId: number): Buffer =>
  generate({ cmd: 'publish', topic: 'weld/a/b/readings', payload, qos: 1, dup: false, retain: false, messageId });

describe('packets that are too long', () => {
  it.each([1_000, 65_536, 20_000_000])('become their beginning, with topic and packet id, in chunks of %d', (chunk) => {
    const payload = Buffer.alloc(10_000_000, '{"current":1}');
    const { out, trimmed } = passed([message(payload, 11), message(Buffer.from('next'), 12)], chunk);
    expect(out.map(({ messageId }) => messageId)).toEqual([11, 12]);
    expect(out[0]?.topic).toBe('weld/a/b/readings');
    // Topic with its two bytes of length, and the packet id, come before the payload (MQTT 3.1.1, 3.3.2).
    const kept = KEPT_OF_OVERSIZE - 2 - 'weld/a/b/readings'.length - 2;
    expect(Buffer.compare(out[0]?.payload as Buffer, payload.subarray(0, kept))).toBe(0);
    expect(kept).toBeGreaterThan(1024 * 1024);
    expect(out[1]?.payload.toString()).toBe('next');
    expect(trimmed).toEqual([payload.length + 2 + 'weld/a/b/readings'.length + 2]);
  });

  it('are left as they are up to the limit', () => {
    const payload = Buffer.alloc(LONGEST_PACKET - 2 - 'weld/a/b/readings'.length - 2, 1);
    const { out, trimmed } = passed([message(payload, 1)], 65_536);
    expect([out[0]?.payload.length, trimmed.length]).toEqual([payload.length, 0]);
  });
});

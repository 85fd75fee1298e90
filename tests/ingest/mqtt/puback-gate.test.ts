import fc from 'fast-check';
import { generate, parser, type Packet } from 'mqtt-packet';
import { describe, expect, it } from 'vitest';
import { pubackGate } from '../../../services/ingest/mqtt/puback-gate.js';

/** A gate whose output is read by mqtt-packet. */
function watchedGate() {
  const out: Packet[] = [];
  const reader = parser();
  reader.on('packet', (packet) => out.push(packet));
  const gate = pubackGate((bytes) => reader.parse(bytes));
  return { gate, ids: () => out.filter(({ cmd }) => cmd === 'puback').map(({ messageId }) => messageId), out };
}

describe('the gate for PUBACKs', () => {
  it('holds a PUBACK until it is covered, and lets other packets pass it', () => {
    const { gate, out, ids } = watchedGate();
    const covered = gate.expect(7);
    gate.write(generate({ cmd: 'puback', messageId: 7 }));
    gate.write(generate({ cmd: 'pingreq' }));
    expect(out.map(({ cmd }) => cmd)).toEqual(['pingreq']);
    expect(gate.held()).toBe(1);
    covered();
    covered();
    expect(ids()).toEqual([7]);
    expect(gate.held()).toBe(0);
  });

  it('lets a PUBACK that was covered before it was written pass at once', () => {
    const { gate, ids } = watchedGate();
    gate.expect(9)();
    gate.write(generate({ cmd: 'puback', messageId: 9 }));
    expect(ids()).toEqual([9]);
  });

  it('does not let a PUBACK out that nothing announced', () => {
    const { gate, ids } = watchedGate();
    expect(() => {
      gate.write(generate({ cmd: 'puback', messageId: 3 }));
    }).toThrow('a PUBACK for packet 3, which nothing announced');
    expect(ids()).toEqual([]);
  });

  it('keeps the order of the messages ([MQTT-4.6.0-2]) whatever the order of commits, cuts and ids', () => {
    const scenario = fc.record({
      count: fc.integer({ min: 1, max: 40 }),
      seed: fc.infiniteStream(fc.nat(1_000)),
      step: fc.integer({ min: 1, max: 9 }),
      version: fc.constantFrom<4 | 5>(4, 5),
    });
    fc.assert(
      fc.property(scenario, ({ count, seed, step, version }) => {
        const { gate, ids } = watchedGate();
        const wanted = Array.from({ length: count }, (_, i) => ((i * 7_919) % 65_535) + 1);
        const covers = wanted.map((id) => gate.expect(id));
        const bytes = Buffer.concat(wanted.map((messageId) => generate({ cmd: 'puback', messageId }, { protocolVersion: version })));
        const coverOne = (): void => {
          const at = (seed.next().value ?? 0) % covers.length;
          covers.splice(at, 1)[0]?.();
        };
        for (let at = 0; at < bytes.length; at += step) {
          gate.write(bytes.subarray(at, at + step));
          if (covers.length > 0 && (seed.next().value ?? 0) % 3 === 0) coverOne();
          expect(ids()).toEqual(wanted.slice(0, ids().length));
        }
        while (covers.length > 0) coverOne();
        expect(ids()).toEqual(wanted);
      }),
    );
  });
});

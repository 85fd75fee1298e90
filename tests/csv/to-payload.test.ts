import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseLog } from './parse-log.js';
import { toPayload } from '../../services/csv/to-payload.js';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import type { Item } from '../../shared/weld/items/item.js';
import { unsentValues } from '../unsent.js';

function roundTrip(message: readonly Item[]): Item[] {
  const { items, unknownFields } = decodeReadings(toPayload(message));
  expect(unknownFields).toBe(0);
  return items.map((entry) => {
    if (entry.kind === 'refused') throw new Error(entry.reason);
    return entry.item;
  });
}

const finite = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: low, max: high, noNaN: true }).map((value) => value + 0);
const latest = Date.UTC(2107, 0, 1) * 1000 - 1;

test('any items decode to the very same, numbers to the last bit and times to the microsecond', () => {
  const quantities = fc.record({
    current: finite(-5000, 5000),
    voltage: finite(-500, 500),
    travelSpeed: fc.option(finite(-20_000, 20_000)),
    wireFeedSpeed: fc.option(finite(-100, 100)),
    travel: fc.option(finite(-1e7, 1e7)),
    plateTemperature: fc.option(finite(-100, 1500)),
  });
  const item = fc
    .record({
      time: fc.oneof(fc.nat({ max: latest }), fc.integer({ min: latest - 1e6, max: latest })),
      seq: fc.nat({ max: Number.MAX_SAFE_INTEGER }),
      arc: fc.integer({ min: 1, max: 6 }),
      interval: fc.option(finite(0.02, 1000)),
      quantities,
      samples: fc.array(finite(-500, 500), { minLength: 1, maxLength: 100 }),
    })
    .map(({ time, seq, arc, interval, quantities: values, samples }): Item => {
      const base = { boot: 'log-x', seq, time, arc, interval, ...unsentValues, ...values };
      return interval === null ? { ...base, count: 1 } : { ...base, count: samples.length, current: samples, voltage: [...samples].reverse() };
    });
  fc.assert(
    fc.property(fc.array(item, { minLength: 1, maxLength: 6 }), (message) => {
      expect(roundTrip(message)).toEqual(message);
    }),
    { numRuns: 2000 },
  );
});

test('every microsecond near the end of the range is told apart', () => {
  for (let time = latest - 5000; time <= latest; time += 1) {
    const item: Item = {
      boot: 'b', seq: 0, time, arc: 1, interval: null, count: 1, current: 0, voltage: 0,
      ...unsentValues,
    };
    expect(roundTrip([item])[0]?.time).toBe(time);
  }
});

test('a log with two arcs, blocks, holes and slow columns goes through unchanged', () => {
  const lines = ['time,arc,current,voltage,travelSpeed,travel,plateTemperature'];
  for (let place = 0; place < 900; place += 1) {
    const time = (place * 0.00033).toFixed(5);
    lines.push(`${time},1,${String(600 + Math.sin(place) * 20)},30.${String(place % 10)},520,${String(place * 0.0028)},${place % 100 === 0 ? '120.5' : ''}`);
    if (place % 50 !== 7) lines.push(`${time},2,-${String(500 + (place % 13))},-34,${place === 333 ? 'x' : ''},,`);
  }
  const log = parseLog(lines.join('\n'), { start: Date.UTC(2026, 10, 25) });
  expect(log.refused).toHaveLength(1);
  expect(log.messages.length).toBeGreaterThan(10);
  for (const message of log.messages) expect(roundTrip(message)).toEqual(message);
  expect(log.items.reduce((sum, item) => sum + item.count, 0)).toBe(lines.length - 2);
});

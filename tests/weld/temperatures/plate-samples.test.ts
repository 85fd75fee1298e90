import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Values } from '../../../shared/weld/items/item.js';
import { dropPlateBefore, feedPlate, plateAt, type PlateSamples } from '../../../shared/weld/temperatures/plate-samples.js';
import { firstSeed } from '../../seeds.js';

function fed(...items: readonly { readonly start: number; readonly values: Values | null; readonly interval?: number; readonly count?: number }[]): PlateSamples {
  const samples: PlateSamples = [];
  for (const { start, values, interval = null, count = 1 } of items) {
    feedPlate(samples, { start, item: { plateTemperature: values, interval, count } } as Parameters<typeof feedPlate>[1]);
  }
  return samples;
}

describe('the newest sample of the plate', () => {
  test('is at or before a time, and of one moment that of the later item', () => {
    const samples = fed({ start: 100, values: 20 }, { start: 200, values: 21 }, { start: 200, values: 22 }, { start: 300, values: null }, { start: 400, values: 23 });
    expect([99, 100, 199, 200, 399, 400, 1e9].map((time) => plateAt(samples, time)?.value ?? null)).toEqual([null, 20, 20, 22, 22, 23, 23]);
  });

  test('is a sample of a block, each at its own time', () => {
    const samples = fed({ start: 1_000_000, values: [20, 21, 22], interval: 100, count: 3 }, { start: 1_300_000, values: 30, interval: 100, count: 3 });
    expect([999_999, 1_000_000, 1_099_999, 1_100_000, 1_299_999, 1_399_999, 9e9].map((time) => plateAt(samples, time))).toEqual([
      null, { at: 1_000_000, value: 20 }, { at: 1_000_000, value: 20 }, { at: 1_100_000, value: 21 }, { at: 1_200_000, value: 22 }, { at: 1_300_000, value: 30 }, { at: 1_500_000, value: 30 },
    ]);
  });

  test('stays the same from a time on, whatever is dropped before it', () => {
    const item = fc.record({ start: fc.integer({ min: 0, max: 50 }).map((step) => step * 20_000), values: fc.integer({ min: 0, max: 9 }), interval: fc.constantFrom(undefined, 10), count: fc.integer({ min: 1, max: 5 }) });
    fc.assert(
      fc.property(fc.array(item, { maxLength: 12 }), fc.integer({ min: 0, max: 1_100_000 }), fc.integer({ min: 0, max: 300_000 }), (items, time, later) => {
        const given = items.map(({ interval, count, ...own }) => (interval === undefined ? own : { ...own, interval, count }));
        const kept = fed(...given);
        dropPlateBefore(kept, time);
        expect(plateAt(kept, time + later)).toEqual(plateAt(fed(...given), time + later));
        expect(kept.filter(({ from, interval, count }) => from + interval * (count - 1) <= time).length).toBeLessThan(2);
      }),
      { seed: firstSeed(), numRuns: 1000 },
    );
  });
});

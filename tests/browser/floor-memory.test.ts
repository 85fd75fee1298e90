import { describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { hasBrowser } from './open-browser.js';
import { growthOf, playFloor } from './play-floor.js';

// It takes a minute of one core.
describe.skipIf(!hasBrowser || !isFull)('the floor, left alone', () => {
  // Three rounds of what the carriages do, so that each third shows the same; `hour-of-floor.ts` plays an hour.
  it('holds no more after 75,000 events than after 50,000', async () => {
    const samples = await playFloor({ seconds: 300, speed: 10, carriages: 50, rate: 5, samples: 30, told: () => undefined });
    expect(samples.at(-1)?.events).toBeGreaterThan(74_000);
    expect(growthOf(samples.map(({ heap }) => heap))).toBeLessThan(0.1);
    expect(growthOf(samples.map(({ nodes }) => nodes))).toBeLessThan(0.1);
    expect(growthOf(samples.map(({ listeners }) => listeners))).toBeLessThanOrEqual(0);
  }, 240_000);

  // Few tiles are large, and each keeps the newest minutes of its values.
  it('holds no more after 12,000 events of five carriages with their trends than after 8,000', async () => {
    const samples = await playFloor({ seconds: 300, speed: 10, carriages: 5, rate: 8, samples: 30, told: () => undefined });
    expect(samples.at(-1)?.events).toBeGreaterThan(11_900);
    expect(growthOf(samples.map(({ heap }) => heap))).toBeLessThan(0.1);
    expect(growthOf(samples.map(({ nodes }) => nodes))).toBeLessThan(0.1);
    expect(growthOf(samples.map(({ listeners }) => listeners))).toBeLessThanOrEqual(0);
  }, 240_000);
});

import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { flippedBits } from './flipped-scenario.js';
import { shown, underSeed } from './outcome.js';

const copies = countFrom('FLIPPED', { soon: 4, full: 20 });

it(`answers correctly or says why not, for ${copies} copies of a store with flipped bits`, { timeout: 300_000 + copies * 20_000 }, async () => {
  const outcome = await underSeed((seed) => flippedBits(copies, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

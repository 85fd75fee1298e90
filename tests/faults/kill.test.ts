import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { killLoop } from './kill-loop.js';
import { shown, underSeed } from './outcome.js';

const kills = countFrom('KILLS', { soon: 3, full: 20 });

it(`survives ${kills} kills under load with every acknowledged item stored once`, { timeout: 300_000 + kills * 30_000 }, async () => {
  const outcome = await underSeed((seed) => killLoop(kills, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { clockScenario } from './clock-scenario.js';
import { shown, underSeed } from './outcome.js';

const cases = countFrom('CLOCKS', { soon: 22, full: 55 });

it(`computes no negative duration from a wrong clock, and flags it (${cases} cases)`, { timeout: 300_000 + cases * 3_000 }, async () => {
  const outcome = await underSeed((seed) => clockScenario(cases, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

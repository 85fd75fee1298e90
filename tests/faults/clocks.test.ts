import { expect, it } from 'vitest';
import { clockScenario } from './clock-scenario.js';
import { countFrom, seedFrom, shown } from './outcome.js';

const cases = countFrom('CLOCKS', 55);

it(`makes no negative duration of a wrong clock, and flags it (${cases} cases)`, { timeout: 60_000 + cases * 3_000 }, async () => {
  const outcome = await clockScenario(cases, seedFrom());
  console.log(`${outcome.counted}, seed ${outcome.seed}`);
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

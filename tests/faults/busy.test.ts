import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { busyScenario } from './busy-scenario.js';
import { shown, underSeed } from './outcome.js';

const seconds = countFrom('BUSY_SECONDS', { soon: 5, full: 20 });

it(`loses nothing of 50 carriages and answers while everything is asked for (${seconds} s)`, { timeout: 120_000 + seconds * 3_000 }, async () => {
  const outcome = await underSeed((seed) => busyScenario({ carriages: 50, seconds }, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

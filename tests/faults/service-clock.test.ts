import { expect, it } from 'vitest';
import { noFakeTime } from './fake-time.js';
import { countFrom, shown, underSeed } from './outcome.js';
import { serviceClockScenario } from './service-clock-scenario.js';

const steps = countFrom('CLOCK_STEPS', 20);

it.skipIf(noFakeTime() !== null)(`goes on while the clock of the machine is set (${steps} steps)`, { timeout: 120_000 + steps * 5_000 }, async () => {
  const outcome = await underSeed((seed) => serviceClockScenario(steps, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

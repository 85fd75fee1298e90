import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { noFakeTime } from './fake-time.js';
import { shown, underSeed } from './outcome.js';
import { serviceClockScenario } from './service-clock-scenario.js';

const steps = countFrom('CLOCK_STEPS', { soon: 5, full: 20 });

it.skipIf(noFakeTime() !== null)(`goes on while the clock of the machine is set (${steps} steps)`, { timeout: 300_000 + steps * 5_000 }, async () => {
  const outcome = await underSeed((seed) => serviceClockScenario(steps, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

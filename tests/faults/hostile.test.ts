import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { hostileScenario } from './hostile-scenario.js';
import { shown, underSeed } from './outcome.js';

const messages = countFrom('HOSTILE', { soon: 2_500, full: 50_000 });

it(`survives ${messages} hostile messages, acknowledges and counts every one, and stores the good ones`, { timeout: 120_000 + messages * 20 }, async () => {
  const outcome = await underSeed((seed) => hostileScenario(messages, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

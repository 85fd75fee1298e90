import { expect, it } from 'vitest';
import { hostileScenario } from './hostile-scenario.js';
import { countFrom, shown, underSeed } from './outcome.js';

const messages = countFrom('HOSTILE', 50_000);

it(`takes ${messages} hostile messages, acknowledges and counts every one, and stores the good ones`, { timeout: 120_000 + messages * 20 }, async () => {
  const outcome = await underSeed((seed) => hostileScenario(messages, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

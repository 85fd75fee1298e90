import { expect, it } from 'vitest';
import { hostileScenario } from './hostile-scenario.js';
import { countFrom, seedFrom, shown } from './outcome.js';

const messages = countFrom('HOSTILE', 50_000);

it(`takes ${messages} hostile messages, acknowledges and counts every one, and stores the good ones`, { timeout: 120_000 + messages * 20 }, async () => {
  const outcome = await hostileScenario(messages, seedFrom());
  console.log(`${outcome.counted}, seed ${outcome.seed}`);
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

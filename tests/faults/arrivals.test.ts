import { expect, it } from 'vitest';
import { arrivalScenario } from './arrival-scenario.js';
import { countFrom, shown, underSeed } from './outcome.js';

const orders = countFrom('ORDERS', 100);

// The long count compares traces row by row as well.
it(`gives the figures of the items in order, in whatever order a carriage sends them, over kills and checkpoints (${orders} orders)`, { timeout: 120_000 + orders * 2_000 }, async () => {
  const outcome = await underSeed((seed) => arrivalScenario(orders, seed, 'figures'));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

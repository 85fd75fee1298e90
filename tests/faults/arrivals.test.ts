import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { arrivalScenario } from './arrival-scenario.js';
import { shown, underSeed } from './outcome.js';

const orders = countFrom('ORDERS', { soon: 10, full: 300 });
/** So many carriages weld at a time: with more of them most of the time goes into folding all again after a kill. */
const piece = 100;

it(`gives the figures and traces of the items in order, in whatever order a carriage sends them, over kills and checkpoints (${orders} orders)`, { timeout: 300_000 + orders * 3_000 }, async () => {
  for (let left = orders; left > 0; left -= piece) {
    const outcome = await underSeed((seed) => arrivalScenario(Math.min(piece, left), seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  }
});

import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { shown, underSeed } from './outcome.js';
import { silentScenario } from './silent-scenario.js';

const connections = countFrom('SILENT_CONNECTIONS', 1_000);

it(`admits carriages beside ${connections} connections that never send anything`, { timeout: 120_000 }, async () => {
  const outcome = await underSeed((seed) => silentScenario(connections, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

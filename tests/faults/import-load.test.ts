import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { importScenario } from './import-scenario.js';
import { shown, underSeed } from './outcome.js';

const megabytes = countFrom('IMPORT_MEGABYTES', 5);

it(`imports a log of ${megabytes} MB beside a carriage that welds, in bounded memory and without holding up its PUBACKs`, { timeout: 60_000 + megabytes * 10_000 }, async () => {
  const outcome = await underSeed((seed) => importScenario(megabytes, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

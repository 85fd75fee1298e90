import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { openRun } from './open-run-scenario.js';
import { shown, underSeed } from './outcome.js';

const days = countFrom('OPEN_DAYS', { soon: 1, full: 7 });
const seconds = countFrom('OPEN_SECONDS', { soon: 5, full: 20 });

it(`welds on in a run that was left open for ${days} days as in one that has begun`, { timeout: 600_000 }, async () => {
  const outcome = await underSeed((seed) => openRun(days, seconds, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

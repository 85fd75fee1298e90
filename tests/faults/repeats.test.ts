import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { shown, underSeed } from './outcome.js';
import { repeatScenario, tooLateScenario } from './repeat-scenario.js';

const seeds = countFrom('SEEDS', { soon: 3, full: 25 });

it(`gives the figures of the items in order, whatever the order and however often they come (${seeds} seeds)`, { timeout: 300_000 + seeds * 20_000 }, async () => {
  const outcome = await underSeed((seed) => repeatScenario(seeds, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

it('revises a run by late items, and lists those that come too late', async () => {
  const outcome = await underSeed(tooLateScenario);
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

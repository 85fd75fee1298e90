import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { manyCarriages, neglectedAlarms } from './neglect-scenario.js';
import { shown, underSeed } from './outcome.js';

const alarms = countFrom('NEGLECTED_ALARMS', 500);
const carriages = countFrom('MANY_CARRIAGES', { soon: 2_000, full: 5_000 });

it(`stays usable after ${alarms} alarms on each of 50 carriages that nobody acknowledged`, { timeout: 180_000 }, async () => {
  const outcome = await underSeed((seed) => neglectedAlarms(alarms, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

it(`knows ${carriages} carriages at no cost to those that send`, { timeout: 300_000 }, async () => {
  const outcome = await underSeed((seed) => manyCarriages(carriages, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

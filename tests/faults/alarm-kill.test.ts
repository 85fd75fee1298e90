import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { alarmScenario } from './alarm-scenario.js';
import { shown, underSeed } from './outcome.js';

const kills = countFrom('ALARM_KILLS', { soon: 2, full: 4 });

it(`keeps an alarm in each state over ${kills} kills: same id, same state, nothing twice, and the retained topic agrees`, { timeout: 300_000 + kills * 30_000 }, async () => {
  const outcome = await underSeed((seed) => alarmScenario(kills, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

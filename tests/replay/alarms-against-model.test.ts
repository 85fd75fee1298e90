import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { firstOfKnown, seedsFrom } from '../seeds.js';
import { randomAlarms } from '../model/random-alarms.js';
import { compareAlarms } from './compare-alarms.js';
import { lateAlarms } from './late-alarms.js';

const seeds = countFrom('ALARM_SEEDS', { soon: 30, full: 500 });
// All of these have been tried. Where a computation from rows leaves room (a border of a zone in a row in which the speed changes, say), one in tens of
// thousands of others may differ, and wants to be looked at.
const first = firstOfKnown('ALARM_FIRST_SEED', 5_000, seeds);
/** Late items, and carriages that are moved, are tried on one scenario in four. */
const fewer = Math.ceil(seeds / 4);
/** Few seeds need not contain everything. */
const manySeeds = seeds >= 200;
const demanded = [
  'unacknowledged', 'acknowledged', 'returned', 'shelved', 'suppressed', 'normal', // states
  'current', 'voltage', 'voltageVariation', 'travelSpeed', 'heatInput', 't85', 'travelStopped', 'polarity', 'overlap', 'feedMismatch', // quantities
  'withdrawn', 'ended suppressed', 'killed',
];

const failed = (wrong: readonly string[]): string => `${wrong.length} of ${seeds} differ (replay one with ALARM_FIRST_SEED and ALARM_SEEDS=1):\n${wrong.slice(0, 10).join('\n')}`;

describe('alarms: the program against the model', () => {
  it(`raises, returns, withdraws and suppresses as the plain model does in ${seeds} random runs from seed ${first} on, in batches and over kills`, { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    const met = new Map<string, number>();
    const count = (what: string): void => {
      met.set(what, (met.get(what) ?? 0) + 1);
    };
    for (const seed of seedsFrom(first, seeds, () => manySeeds && demanded.some((what) => !met.has(what)))) {
      const scenario = randomAlarms(seed);
      const { found, alarms, states, kills } = compareAlarms(scenario, seed, { killing: 0.06, mostInBatch: 12 });
      for (const alarm of alarms) {
        count(alarm.quantity);
        if (alarm.withdrawn) count('withdrawn');
        else if (alarm.suppressed && alarm.returnedAt !== null) count('ended suppressed');
      }
      for (const state of states) count(state);
      if (kills > 0) count('killed');
      if (found.length > 0) wrong.push([scenario.description, ...found.slice(0, 4)].join('\n    '));
    }
    expect(wrong.length, failed(wrong)).toBe(0);
    if (manySeeds) for (const what of demanded) expect(met.get(what) ?? 0, what).toBeGreaterThan(0);
  });

  it('does so when a carriage is driven far with its arcs off, a trailing arc begins late and an encoder starts again', { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    const met = { litElsewhere: 0, 'heat input withdrawn': 0, 'cooling time withdrawn': 0, 'two boots': 0 };
    for (const seed of seedsFrom(first, fewer, () => manySeeds && Object.values(met).includes(0))) {
      const scenario = randomAlarms(seed, { moved: true });
      const { found, alarms, litElsewhere } = compareAlarms(scenario, seed, { killing: 0.06, mostInBatch: 12 });
      const all = [...found, ...(seed % 3 === 0 ? lateAlarms(scenario, seed).map((line) => `late: ${line}`) : [])];
      if (litElsewhere > 0) met.litElsewhere += 1;
      if (alarms.some(({ quantity, withdrawn }) => withdrawn && quantity === 'heatInput')) met['heat input withdrawn'] += 1;
      if (alarms.some(({ quantity, withdrawn }) => withdrawn && quantity === 't85')) met['cooling time withdrawn'] += 1;
      if (scenario.description.includes('two boots')) met['two boots'] += 1;
      if (all.length > 0) wrong.push([scenario.description, ...all.slice(0, 4)].join('\n    '));
    }
    expect(wrong.length, failed(wrong)).toBe(0);
    if (manySeeds) for (const [what, times] of Object.entries(met)) expect(times, what).toBeGreaterThan(0);
  });

  it.each([
    ['an arc goes out as the other falls into a data gap', 578696393],
    ['heat input waits for its off-delay as the arc goes out', 578696026],
    ['the same among other alarms', 578696462],
    ['the crater takes a cause and its heat input alike', 1568351849],
    ['the crater takes a cause from under its heat input', 430],
    ['an excursion lasts beyond the crater that had a share in its on-delay', 1807787624],
    ['the ignition ends in the very middle of a row', 73580452],
    ['the ignition ends in a row in which the speed changes', 56440610],
    ['the carriage has turned since its heat input came back', 77001027],
  ])('agrees where it once did not: %s', (_, seed) => {
    expect(compareAlarms(randomAlarms(seed), seed, { killing: 0.06, mostInBatch: 12 }).found).toEqual([]);
  });

  it.each([
    ['withdraws heat input with the row in which an arc begins that did not pass there', 77001144],
    ['raises nothing that only the record, which hears of an arc later, has found for a while', 722265204],
    ['lets one that came back and was lost again keep its worst value of the last time', 9054],
  ])('%s', (_, seed) => {
    expect(compareAlarms(randomAlarms(seed, { moved: true }), seed, { killing: 0.06, mostInBatch: 12 }).found).toEqual([]);
  });

  it('follows the items in order, one alarm for one excursion, where some come late by up to 2 s', { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    for (const seed of seedsFrom(first, fewer)) {
      const scenario = randomAlarms(seed);
      const found = lateAlarms(scenario, seed);
      if (found.length > 0) wrong.push([scenario.description, ...found.slice(0, 4)].join('\n    '));
    }
    expect(wrong.length, failed(wrong)).toBe(0);
  });
});

import { describe, expect, it } from 'vitest';
import { randomAlarms } from '../model/random-alarms.js';
import { compareAlarms } from './compare-alarms.js';

const seeds = Number(process.env['ALARM_SEEDS'] ?? 1_000);
const first = Number(process.env['ALARM_FIRST_SEED'] ?? 1);

describe('alarms: the program against the model', () => {
  it(`raises, returns, withdraws and suppresses as the plain model does in ${seeds} random runs, batch by batch and over kills`, { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    const met: Record<string, number> = {};
    const count = (what: string): void => {
      met[what] = (met[what] ?? 0) + 1;
    };
    for (let seed = first; seed < first + seeds; seed += 1) {
      const scenario = randomAlarms(seed);
      const { found, alarms, states, kills } = compareAlarms(scenario, seed, { killing: 0.06, mostInBatch: 12 });
      for (const alarm of alarms) {
        count(alarm.quantity);
        if (alarm.withdrawn) count('withdrawn');
        if (alarm.suppressed) count('ended suppressed');
        if (alarm.returnedAt === null && !alarm.withdrawn) count('lasting');
      }
      for (const state of states) count(state);
      if (kills > 0) count('killed');
      if (found.length > 0) wrong.push([scenario.description, ...found.slice(0, 4)].join('\n    '));
    }
    console.log(JSON.stringify(met));
    expect(wrong.length, `${wrong.length} of ${seeds} differ (replay one with ALARM_FIRST_SEED and ALARM_SEEDS=1):\n${wrong.slice(0, 12).join('\n')}`).toBe(0);
  });
});

import { randomAlarms } from '../model/random-alarms.js';
import { compareAlarms } from '../replay/compare-alarms.js';
import { lateAlarms } from '../replay/late-alarms.js';
import type { Outcome } from './outcome.js';

/** Alarms of `seeds` random runs against the plain model, in batches, over kills, and with late items. */
export function alarmSignals(seeds: number, seed: number): Promise<Outcome> {
  const problems: string[] = [];
  let alarms = 0;
  for (let own = seed; own < seed + seeds; own += 1) {
    const scenario = randomAlarms(own);
    const compared = compareAlarms(scenario, own, { killing: 0.06, mostInBatch: 12 });
    alarms += compared.alarms.length;
    problems.push(...[...compared.found, ...lateAlarms(scenario, own)].map((line) => `SEED=${own}: ${scenario.description}: ${line}`));
  }
  return Promise.resolve({ scenario: 'alarm signals', seed, counted: `${seeds} runs, ${alarms} alarms`, problems });
}

import { busyScenario } from '../faults/busy-scenario.js';
import type { BenchOptions, BenchTable } from './bench-part.js';
import { quantile, spread } from './spread.js';

const carriages = 50;
const seconds = 20;

/** From publishing a reading to its event on the live feed, while lists, traces and profiles are read all the time. */
export async function live(options: BenchOptions): Promise<readonly BenchTable[]> {
  const delays: (readonly number[])[] = [];
  const answers: (readonly number[])[] = [];
  const cpu: number[] = [];
  for (let round = 1; round <= Math.min(options.rounds, 2); round += 1) {
    options.say(`live: round ${round}`);
    const found = await busyScenario({ carriages, seconds: Math.ceil(seconds * options.scale) }, round);
    if (found.problems.length > 0) throw new Error(found.problems.slice(0, 3).join('; '));
    delays.push(found.delays);
    answers.push(found.answers);
    cpu.push(found.processorShare * 100);
  }
  const row = (what: string, times: readonly (readonly number[])[], goal: string): string[] => [
    what, ...[0.5, 0.95, 0.99, 1].map((share) => spread(times.map((own) => quantile(own, share)))), goal,
  ];
  return [
    {
      title: `${carriages} carriages at 10 Hz for ${seconds} s`,
      header: ['', 'p50', 'p95', 'p99', 'worst', 'goal, p99'],
      rows: [row('published to live event, ms', delays, 'under 250'), row('answers meanwhile (lists, traces, profiles, metrics), ms', answers, '–')],
      notes: [`A carriage is told of at most every 200 ms, which is in these times. The service took ${spread(cpu)} % of one core, all of HTTP included.`],
    },
  ];
}

import { busyScenario } from './busy-scenario.js';
import { clockScenario } from './clock-scenario.js';
import { noFailingFiles } from './failing-files.js';
import { noSmallDisk } from './full-disk.js';
import { hostileScenario } from './hostile-scenario.js';
import { killLoop } from './kill-loop.js';
import { seedFrom, type Outcome } from './outcome.js';
import { repeatScenario, tooLateScenario } from './repeat-scenario.js';
import { failingStorage, fullDisk } from './storage-scenarios.js';
import { noStrace, syncScenario } from './sync-scenario.js';

/**
 * Long counts: `npx tsx tests/faults/long-counts.ts [SHARE] [PART OF A NAME]`, where SHARE (1 unless given) shortens all of
 * them alike. Prints a line for each piece of work as it ends, one table at the end, and exits with 1 where a promise was broken.
 */
interface LongCount {
  readonly name: string;
  /** How much there is to do, and how much of it in one service's life. */
  readonly total: number;
  readonly piece: number;
  readonly leftOut: string | null;
  readonly run: (count: number, seed: number) => Promise<Outcome>;
}

const counts: readonly LongCount[] = [
  { name: 'SIGKILL under load', total: 500, piece: 50, leftOut: null, run: killLoop },
  { name: 'disk full', total: 20, piece: 4, leftOut: noSmallDisk(), run: fullDisk },
  { name: 'every write up to', total: 300, piece: 300, leftOut: noFailingFiles(), run: (count, seed) => failingStorage({ writesTo: count, writesStep: 1, syncs: Math.ceil(count / 3) }, seed) },
  { name: 'sync before PUBACK', total: 5_000, piece: 1_000, leftOut: noStrace(), run: syncScenario },
  { name: 'hostile messages', total: 1_000_000, piece: 50_000, leftOut: null, run: hostileScenario },
  { name: 'repeats, any order, late', total: 20_000, piece: 500, leftOut: null, run: repeatScenario },
  { name: 'too late', total: 50, piece: 1, leftOut: null, run: (_count, seed) => tooLateScenario(seed) },
  { name: 'wrong clocks', total: 5_000, piece: 110, leftOut: null, run: clockScenario },
  { name: 'busy, s', total: 600, piece: 600, leftOut: null, run: (count, seed) => busyScenario({ carriages: 50, seconds: count }, seed) },
];

const share = Number(process.argv[2] ?? '1');
const wanted = process.argv[3] ?? '';
if (!(share > 0)) throw new RangeError(`the first argument: got ${JSON.stringify(process.argv[2])}, takes a share above 0, such as 0.01`);

const table: { scenario: string; done: number; minutes: string; problems: number; seeds: string }[] = [];
for (const { name, total, piece, leftOut, run } of counts.filter((own) => own.name.includes(wanted))) {
  if (leftOut !== null) {
    console.log(`${name}: left out, ${leftOut}`);
    table.push({ scenario: name, done: 0, minutes: '–', problems: 0, seeds: `left out: ${leftOut}` });
    continue;
  }
  const begun = Date.now();
  const goal = Math.max(1, Math.ceil(total * share));
  const failing: number[] = [];
  let first = seedFrom();
  const begin = first;
  let problems = 0;
  for (let done = 0; done < goal; done += piece) {
    const count = Math.min(piece, goal - done);
    const outcome = await run(count, first).catch((error: unknown): Outcome => ({ scenario: name, seed: first, counted: 'broken off', problems: [error instanceof Error ? error.message : String(error)] }));
    console.log(`${name}: ${outcome.counted}, seed ${first}${outcome.problems.map((line) => `\n  ${line}`).slice(0, 20).join('')}`);
    problems += outcome.problems.length;
    if (outcome.problems.length > 0) failing.push(first);
    // The repeats count their seeds up one by one.
    first += piece;
  }
  const seeds = failing.length === 0 ? `from ${begin}` : `failing: ${failing.join(', ')}`;
  table.push({ scenario: name, done: goal, minutes: ((Date.now() - begun) / 60_000).toFixed(1), problems, seeds });
}
console.table(table);
process.exit(table.some(({ problems }) => problems > 0) ? 1 : 0);

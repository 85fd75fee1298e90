import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { firstSeed, seedsFrom } from '../seeds.js';
import { repeatPlan, type Sending } from '../faults/repeat-plan.js';
import { differences } from '../faults/same-runs.js';
import { accountProblems } from '../ingest/accounted.js';
import { commit, declare, dropAll, finishAll, hall, killed, storedDensities, storedRuns } from '../ingest/arrive.js';
import { openStreams, type OpenStreams } from '../ingest/open-streams.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { anyOrder, arrangeAs, bootsAsSeen } from './arrival-orders.js';
import { readArc, readRun } from '../named-rows.js';

const runs = countFrom('STORED_ORDER_SEEDS', { soon: 5, full: 40 });
const first = firstSeed('STORED_ORDER_SEED');
const bootOf = ({ items }: Sending): string => items[0]?.boot ?? '';
const ofTheRecord = new Set(['id', 'revisedAt', 'version', 'carriage']);

/** Sends a run of an earlier boot that is long over, so that the carriage's items have been deleted when the rest arrives. */
function sendBefore(own: OpenStreams, carriage: string, end: number): void {
  commit(own, () => { own.take(`weld/${hall}/${carriage}/assignment`, JSON.stringify({ seam: `before-${carriage}`, run: 1, time: end - 4_000_000 })); });
  for (let from = 0; from < 400; from += 50) {
    commit(own, () => {
      for (let seq = from; seq < from + 50; seq += 1) {
        const on = seq > 20 && seq < 300;
        own.take(`weld/${hall}/${carriage}/readings`, JSON.stringify({ boot: 'b0', seq, time: end - 3_600_000 + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 }));
      }
    });
  }
  commit(own, () => { own.take(`weld/${hall}/${carriage}/assignment`, ''); });
  finishAll(own);
}

/** Sends the remaining messages in that order, spread over commits, minutes and kills. */
function arrive(own: OpenStreams, carriage: string, sendings: readonly Sending[], random: Random, disturbed: boolean): void {
  const together = random.pick([Math.ceil(sendings.length / 200), 20, 60, 400]);
  const commits = Math.ceil(sendings.length / together);
  for (let at = 0; at < sendings.length; at += together) {
    commit(own, () => { for (const { items } of sendings.slice(at, at + together)) own.take(`weld/${hall}/${carriage}/readings`, JSON.stringify(items)); });
    if (!disturbed) continue;
    // 13 minutes over all of it: late, but never too late for any run
    own.now += Math.floor(random.between(0, 1) * (780e6 / commits));
    if (random.chance(0.1)) commit(own, () => { dropAll(own); });
    if (random.chance(Math.min(0.2, 4 / commits))) killed(own);
  }
}

function tracesOf(own: OpenStreams, id: string): unknown {
  const { traces } = own.streams().fold;
  return JSON.stringify({ run: readRun(traces, id), arcs: traces.arcs(id).map((arc) => readArc(traces, id, arc)) });
}

/** The differences between a carriage whose items came in order and one whose items came in any order. */
function compare(seed: number): string[] {
  const random = seededRandom(seed);
  const own = openStreams(undefined, { checkpointEvery: random.pick([500_000, 2_000_000, 10_000_000, 60_000_000]) });
  own.db.pragma('synchronous = OFF');
  try {
    const plans = { o: repeatPlan(seed, (seam) => `${seam}-o`), m: repeatPlan(seed, (seam) => `${seam}-m`) };
    const over = JSON.stringify({ seam: null, time: plans.o.end });
    if (random.chance(0.5)) {
      for (const carriage of ['o', 'm']) sendBefore(own, carriage, plans.o.end);
      own.now += 1_000e6;
      commit(own, () => { dropAll(own); });
    }
    for (const carriage of ['o', 'm'] as const) declare(own, carriage, plans[carriage].sensors);
    const order = anyOrder(random);
    const { sendings } = plans.m;
    const boots = [...new Set(sendings.map(bootOf))];
    const arriving = bootsAsSeen(arrangeAs(order, sendings, random), boots, bootOf);
    for (const carriage of ['o', 'm'] as const) {
      commit(own, () => { for (const payload of [...plans[carriage].assignments, over]) own.take(`weld/${hall}/${carriage}/assignment`, payload); });
      arrive(own, carriage, carriage === 'o' ? sendings : arriving, random, carriage === 'm');
    }
    finishAll(own);
    const problems = accountProblems(own.folder, { now: own.now });
    // Everything is folded; now the carriages have been dark for long enough to end any run.
    own.now += 1_000e6;
    finishAll(own);
    const [inOrder, mixed] = [storedRuns(own, 'o'), storedRuns(own, 'm')];
    const plain = (run: Record<string, unknown>): unknown =>
      JSON.parse(JSON.stringify(Object.fromEntries(Object.entries(run).filter(([name]) => !ofTheRecord.has(name)))).replaceAll('-o"', '-m"'));
    problems.push(...differences('runs', inOrder.map(plain), mixed.map(plain)));
    inOrder.forEach((run, at) => { problems.push(...differences(`densities of run ${at}`, storedDensities(own, run.id), storedDensities(own, mixed[at]?.id ?? ''))); });
    if (problems.length === 0) inOrder.forEach((run, at) => { if (tracesOf(own, run.id) !== tracesOf(own, mixed[at]?.id ?? '')) problems.push(`rows of run ${at} differ`); });
    return [...problems, ...own.problems].map((line) => `${order}, ${plans.m.description}: ${line}`);
  } finally {
    own.close();
  }
}

it(`any order of arrival, over commits, minutes, kills and checkpoints, is stored as the items in order (${runs} seeds)`, { timeout: 7_200_000 }, () => {
  for (const seed of seedsFrom(first, runs)) {
    expect(compare(seed).slice(0, 8), `STORED_ORDER_SEED=${seed} STORED_ORDER_SEEDS=1`).toEqual([]);
  }
});

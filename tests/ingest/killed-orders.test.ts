import { expect, it } from 'vitest';
import { readRowGroups } from '../../shared/traces/row-groups.js';
import { countFrom } from '../counts.js';
import { chainedPlan, payloadsIn } from '../faults/arrival-plan.js';
import type { RepeatPlan } from '../faults/repeat-plan.js';
import { seedFrom } from '../faults/outcome.js';
import { differences, ofTheWelding } from '../faults/same-runs.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { anyOrder, type ArrivalOrder } from '../replay/arrival-orders.js';
import { accountProblems } from './accounted.js';
import { commit, declare, finishAll, killed, storedDensities, storedRuns } from './arrive.js';
import { openStreams, type OpenStreams } from './open-streams.js';
import { namedGroup } from '../named-rows.js';

const orders = countFrom('KILLED_ORDERS', { soon: 6, full: 200 });

/** How many runs had a density, and how many carriages sensors that were declared. */
const met = { densities: 0, declared: 0 };

/** How often the process is killed, and whether time passes between commits: within a second, records are written only where they must be. */
interface Disturbance {
  readonly kills: number;
  readonly pause: number;
}

function sendAll(own: OpenStreams, { assignments, sensors }: RepeatPlan, payloads: readonly string[], random: Random, { kills, pause }: Disturbance): void {
  declare(own, 'c1', sensors);
  commit(own, () => { for (const text of assignments) own.take('weld/hall/c1/assignment', text); });
  for (let at = 0; at < payloads.length;) {
    const together = random.pick([1, 1, 2, 5]);
    commit(own, () => { for (const payload of payloads.slice(at, at + together)) own.take('weld/hall/c1/readings', payload); });
    at += together;
    own.now += Math.round(random.between(0, pause));
    if (random.between(0, 1) < 0.3) commit(own, () => undefined);
    if (random.between(0, 1) < kills) killed(own);
  }
  // Memory is emptied, so that only the store is compared.
  if (kills > 0) killed(own);
  finishAll(own);
  // The density of a run that is still open is complete once nothing has come for 2 s.
  own.now += 2_000_000;
  commit(own, () => undefined);
}

/** The records of the runs without their ids and versions, the densities of their arcs, and the rows of their traces. */
function facesOf(own: OpenStreams): unknown[] {
  const faces = storedRuns(own, 'c1').map((run) => ({
    figures: ofTheWelding(run),
    densities: storedDensities(own, run.id),
    rows: Array.from(readRowGroups(own.streams().fold.traces, run.id), namedGroup),
  }));
  // Runs of boots whose clocks overlap may begin in the same ms.
  return faces.map((face) => JSON.stringify(face)).sort().map((text) => JSON.parse(text) as unknown);
}

function problemsOf(seed: number): string[] {
  const random = seededRandom(seed);
  const plan = chainedPlan(random, (seam) => seam);
  const order = anyOrder(random);
  const disturbance = { kills: random.pick([0.05, 0.2, 0.5, 1]), pause: random.pick([0, 0, 20_000, 3_000_000]) };
  const faces = (arrival: ArrivalOrder, disturbed: Disturbance): { readonly faces: unknown[]; readonly problems: string[] } => {
    const own = openStreams(undefined, { checkpointEvery: random.pick([1_000_000, 1_000_000, 5_000_000, 60_000_000]) });
    try {
      sendAll(own, plan, payloadsIn(arrival, plan.sendings, random), random, disturbed);
      return { faces: facesOf(own), problems: [...own.problems, ...accountProblems(own.folder, { now: own.now })] };
    } finally {
      own.close();
    }
  };
  const expected = faces('in order', { kills: 0, pause: 600_000 });
  const found = faces(order, disturbance);
  met.densities += found.faces.filter((face) => Object.keys((face as { densities: object }).densities).length > 0).length;
  met.declared += plan.sensors === null ? 0 : 1;
  const differ = expected.faces.length === found.faces.length ? differences('runs', expected.faces, found.faces).slice(0, 8) : [`expected ${expected.faces.length} runs, found ${found.faces.length}`];
  return [...expected.problems, ...found.problems, ...differ].map((line) => `seed ${seed}, ${order}, ${JSON.stringify(disturbance)}, ${plan.description}: ${line}`);
}

it(`gives the figures, densities and rows of the items in order over kills at any commit, with and without a second between them (${orders} orders)`, { timeout: 60_000 + orders * 10_000 }, () => {
  const from = seedFrom();
  const problems: string[] = [];
  for (let at = 0; at < orders; at += 1) problems.push(...problemsOf(from + at));
  expect(problems.slice(0, 20), `SEED=${from}: ${problems.length} problems`).toEqual([]);
  if (orders >= 100) for (const [what, times] of Object.entries(met)) expect(times, what).toBeGreaterThan(0);
});

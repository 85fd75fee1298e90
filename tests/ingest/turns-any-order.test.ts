import { expect, it } from 'vitest';
import { readRowGroups } from '../../shared/traces/row-groups.js';
import { countFrom } from '../counts.js';
import { differences, ofTheWelding } from '../faults/same-runs.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { namedGroup } from '../named-rows.js';
import { anyOrder, arrangeAs } from '../replay/arrival-orders.js';
import { firstSeed, seedsFrom } from '../seeds.js';
import { accountProblems } from './accounted.js';
import { commit, finishAll, killed, storedRuns } from './arrive.js';
import { openStreams, type OpenStreams } from './open-streams.js';

const series = countFrom('TURN_SEEDS', { soon: 4, full: 100 });
const start = Date.UTC(2026, 10, 25);

interface Plan {
  readonly assignment: object;
  readonly items: readonly string[];
  /** mm round the work. */
  readonly turn: number;
}

/**
 * Work that turns under an arc, by speed or by encoder, in one direction: readings at 10 Hz of one or two arcs, with the arc put out and struck again, the carriage
 * turned on or back meanwhile, and holes. The generator makes no blocks and no steps of the clock, which turns do not concern.
 */
function planOf(random: Random): Plan {
  const diameter = random.between(20, 60);
  const arcs = random.pick([[1], [1, 2]]);
  const encoder = random.chance(0.5);
  const items: string[] = [];
  let travel = random.between(-500, 500);
  let seq = 0;
  let tick = 0;
  const send = (count: number, on: boolean, speed: number): void => {
    for (let k = 0; k < count; k += 1) {
      const own = arcs.map((arc) => ({ boot: 'b1', seq, time: start + tick * 100, arc, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: speed, ...(encoder ? { travel } : {}) }));
      items.push(JSON.stringify(own));
      seq += 1;
      tick += 1;
      travel += speed / 600;
    }
  };
  send(5, false, 0);
  for (let part = random.whole(2, 5); part > 0; part -= 1) {
    send(random.whole(80, 260), true, random.between(400, 900));
    if (random.chance(0.4)) send(random.whole(5, 20), false, random.between(-300, 300));
    if (random.chance(0.3)) tick += random.whole(12, 40);
  }
  send(20, false, 0);
  return { assignment: { seam: 'C-1', run: random.whole(1, 3), motion: 'work', diameter, turnIsRun: true, ...(random.chance(0.3) ? { lastRun: 4 } : {}), time: start - 1_000 }, items, turn: Math.PI * diameter };
}

interface Face {
  readonly figures: Readonly<Record<string, unknown>>;
  readonly rows: readonly unknown[];
}

function weld(plan: Plan, payloads: readonly string[], random: Random, kills: number): { readonly faces: Face[]; readonly problems: string[] } {
  const own: OpenStreams = openStreams(undefined, { checkpointEvery: random.pick([1_000_000, 5_000_000, 60_000_000]) });
  own.db.pragma('synchronous = OFF');
  try {
    commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify(plan.assignment)); });
    for (let at = 0; at < payloads.length;) {
      const together = random.pick([5, 20, 60]);
      commit(own, () => { for (const payload of payloads.slice(at, at + together)) own.take('weld/hall/c1/readings', payload); });
      at += together;
      own.now += Math.round(random.between(0, 1_500_000));
      if (random.chance(kills)) killed(own);
    }
    if (kills > 0) killed(own);
    finishAll(own);
    const faces = storedRuns(own, 'c1').map((run) => ({ figures: { ...ofTheWelding(run), assignment: run['assignment'] }, rows: Array.from(readRowGroups(own.streams().fold.traces, run.id), namedGroup) }));
    return { faces: JSON.parse(JSON.stringify(faces)) as Face[], problems: [...own.problems, ...accountProblems(own.folder, { now: own.now })] };
  } finally {
    own.close();
  }
}

it(`a series of turns is the same whatever the order of arrival, over kills (${series} series)`, { timeout: 60_000 + series * 20_000 }, () => {
  const first = firstSeed();
  const problems: string[] = [];
  let turned = 0;
  for (const seed of seedsFrom(first, series)) {
    const random = seededRandom(seed);
    const plan = planOf(random);
    const order = anyOrder(random);
    const expected = weld(plan, plan.items, random, 0);
    const found = weld(plan, arrangeAs(order, plan.items, random), random, random.pick([0, 0.05, 0.3]));
    turned += expected.faces.length - 1;
    const differ = expected.faces.length === found.faces.length ? differences('runs', expected.faces, found.faces).slice(0, 8) : [`expected ${expected.faces.length} runs, found ${found.faces.length}`];
    problems.push(...[...expected.problems, ...found.problems, ...differ].map((line) => `seed ${seed}, ${order}: ${line}`));
  }
  expect(problems.slice(0, 20), `CHECK_SEED=${first}: ${problems.length} problems`).toEqual([]);
  expect(turned).toBeGreaterThan(0);
});

import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { openReader } from '../../shared/records/open-database.js';
import type { Run } from '../../shared/api-types/run.js';
import { accountProblems } from '../ingest/accounted.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { anyOrder } from '../replay/arrival-orders.js';
import { chainedPlan, payloadsIn } from './arrival-plan.js';
import { declareSensors, getAll, runsOf, until } from './ask-service.js';
import { checkKept, identityOf, keptItems } from './kept-items.js';
import { sendInOrder, type Outgoing } from './ordered-sender.js';
import type { Outcome } from './outcome.js';
import type { RepeatPlan } from './repeat-plan.js';
import { runDifferences, withTraces, type RunFace } from './same-runs.js';
import { freePort, scratchDir, startProcess, type ServiceProcess } from './service-process.js';

/** Orders in which the items of one plan arrive, each at a carriage of its own, beside one that sends them in order. */
const ordersPerPlan = 10;
const connections = 4;

interface Hall {
  readonly site: string;
  readonly plan: RepeatPlan;
  /** Of each carriage the order in which its items come; the first one's are in order. */
  readonly carriages: readonly { readonly name: string; readonly order: string }[];
}

/** Messages and when each of them goes out, on a scale from 0 to 1. */
type Timed = Outgoing & { readonly at: number };

function makeHall(seed: number, orders: number): { readonly hall: Hall; readonly assignments: Outgoing[]; readonly messages: Timed[] } {
  const random = seededRandom(seed);
  const plan = chainedPlan(random, (seam) => `${seam}-@`);
  const site = `hall${seed}`;
  const assignments: Outgoing[] = [];
  const messages: Timed[] = [];
  const carriages = Array.from({ length: 1 + orders }, (_, at) => {
    const name = `c${at}`;
    const order = at === 0 ? 'in order' : anyOrder(random);
    const topic = `weld/${site}/${name}`;
    // Each begins when it likes and takes the time that it likes, so that carriages lie in commits with others.
    const [from, lasts] = [random.between(0, 0.3), random.between(0.2, 0.7)];
    for (const payload of plan.assignments) assignments.push({ topic: `${topic}/assignment`, payload: payload.replaceAll('@', `${site}-${name}`) });
    const payloads = payloadsIn(order, plan.sendings, random);
    payloads.forEach((payload, k) => messages.push({ at: from + (lasts * k) / payloads.length, topic: `${topic}/readings`, payload }));
    return { name, order };
  });
  return { hall: { site, plan, carriages }, assignments, messages };
}

/** Items that are lost, or there twice, or others, by the store's own rows. */
function countStored(dataDir: string, { site, plan, carriages }: Hall): string[] {
  const sent = new Map<string, string>();
  for (const { items } of plan.sendings) for (const item of items) for (const { name } of carriages) sent.set(identityOf(site, name, item), JSON.stringify(item));
  return checkKept(keptItems(dataDir, site), sent);
}

/** Runs of boots whose clocks overlap may begin in the same ms. */
function inOrder(runs: readonly Run[]): Run[] {
  const key = ({ startedAt, endedAt, seam, energy }: Run): string => JSON.stringify([startedAt, endedAt, seam?.replace(/-c\d+$/, ''), energy]);
  return [...runs].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

type Compared = 'figures' | 'figures and traces';

async function facesOf(http: string, runs: readonly Run[], compared: Compared): Promise<RunFace[]> {
  return compared === 'figures' ? runs.map((run) => ({ run, trace: null, densities: null })) : withTraces(http, runs);
}

/** Where the runs of the carriages differ from those of the one that sent in order, as soon as all is folded, which may be after it is stored. */
async function compareHall(http: string, { site, plan, carriages }: Hall, compared: Compared, seconds: number): Promise<string[]> {
  const problems: string[] = [];
  const faces = async (carriage: string): Promise<RunFace[]> => facesOf(http, inOrder(await runsOf(http, site, carriage)), compared);
  let expected = await faces('c0');
  for (const { name, order } of carriages.slice(1)) {
    const as = (text: string): string => text.replaceAll(`${site}-c0"`, `${site}-${name}"`).replaceAll('"carriage":"c0"', `"carriage":"${name}"`);
    const deadline = Date.now() + seconds * 1_000;
    let found = await faces(name);
    let lines = runDifferences(expected, found, as);
    while (lines.length > 0 && Date.now() < deadline) {
      await wait(250);
      [expected, found] = [await faces('c0'), await faces(name)];
      lines = runDifferences(expected, found, as);
    }
    problems.push(...lines.map((line) => `${name}, ${order}: ${line}`));
    for (const { run } of found) if ((run.version > 1) !== (run.revisedAt !== null)) problems.push(`${name}, ${order}: version ${run.version}, revisedAt ${String(run.revisedAt)}`);
  }
  return problems.map((line) => `SEED=${site.slice(4)}: ${plan.description}: ${line}`);
}

/** Nothing came later than a run may be revised, so no run lists anything. */
function lateProblems(dataDir: string): string[] {
  const db = openReader(join(dataDir, 'seamwarden.db'));
  try {
    const late = db.prepare<[], { count: number }>('select count(*) as count from late').get()?.count ?? 0;
    return late === 0 ? [] : [`${late} items are listed as late, none was`];
  } finally {
    db.close();
  }
}

async function disturb(kills: number, random: Random, acknowledged: () => number, total: number, again: () => Promise<void>): Promise<void> {
  const at = Array.from({ length: kills }, () => Math.floor(total * random.between(0.05, 0.98))).sort((a, b) => a - b);
  for (const count of at) {
    await until(`${count} of ${total} messages to be acknowledged`, () => acknowledged() >= count, 300, () => String(acknowledged()));
    await again();
  }
}

/** Carriages that send the same items, each in another order, over kills and checkpoints: `count` orders against those in order. */
export async function arrivalScenario(count: number, seed: number, compared: Compared = 'figures and traces'): Promise<Outcome> {
  const random = seededRandom(seed);
  const plans = Math.ceil(count / ordersPerPlan);
  const made = Array.from({ length: plans }, (_, at) => makeHall(seed + at, Math.min(ordersPerPlan, count - at * ordersPerPlan)));
  const dir = scratchDir();
  const mqttPort = await freePort();
  const problems: string[] = [];
  let service: ServiceProcess = startProcess({ dataDir: dir.path, mqttPort });
  let up = true;
  let acknowledged = 0;
  const kills = random.whole(1, 2);
  try {
    await service.listening;
    const lists = Array.from({ length: connections }, (_, at) => made.filter((_hall, own) => own % connections === at).flatMap(({ messages }) => messages).sort((a, b) => a.at - b.at));
    const total = lists.reduce((sum, list) => sum + list.length, 0);
    const url = (): string | null => (up ? `mqtt://127.0.0.1:${mqttPort}` : null);
    for (const { hall: { site, plan, carriages } } of made) for (const { name } of carriages) await declareSensors((await service.listening).http, site, name, plan.sensors);
    // Before any kill: one that is sent again under another number is another assignment.
    await sendInOrder(url, made.flatMap(({ assignments }) => assignments), () => undefined);
    const sending = Promise.all(lists.map((list) => sendInOrder(url, list, () => { acknowledged += 1; })));
    const kill = async (): Promise<void> => {
      up = false;
      await service.kill('SIGKILL');
      if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
      // What is kept and not folded yet is in no figure, so only the items are accounted for.
      problems.push(...accountProblems(dir.path, { lateFor: -Infinity }).map((line) => `after a kill: ${line}`));
      service = startProcess({ dataDir: dir.path, mqttPort });
      await service.listening;
      up = true;
    };
    await disturb(kills, random, () => acknowledged, total, kill);
    await sending;
    // Once more with everything acknowledged, and most of it not folded in order yet.
    await kill();
    const { http } = await service.listening;
    // What is stored is acknowledged at once and may be folded again later, in its share of the time.
    let welding: readonly Run[] = [];
    await until('every run to be finished', async () => (welding = await getAll<Run>(http, '/api/runs?state=welding')).length === 0, 60 + count, () => `${welding.length} are not, ${JSON.stringify(welding[0])}`);
    if ((await getAll<Run>(http, '/api/runs')).length === 0) problems.push('no run came of it');
    for (const { hall } of made) problems.push(...(await compareHall(http, hall, compared, 20)));
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
    await service.kill('SIGTERM');
    for (const { hall } of made) problems.push(...countStored(dir.path, hall));
    problems.push(...accountProblems(dir.path), ...lateProblems(dir.path));
    const items = made.reduce((sum, { hall }) => sum + hall.carriages.length * hall.plan.sendings.reduce((all, own) => all + own.items.length, 0), 0);
    return { scenario: 'any order of arrival', seed, counted: `${count} orders of ${plans} streams, ${items} items in ${total} messages, ${kills + 1} kills`, problems };
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
}

import { closeSync, copyFileSync, fstatSync, mkdirSync, openSync, readSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { declareSensors, getAll, until } from './ask-service.js';
import { identityOf, keptItems } from './kept-items.js';
import type { Outcome } from './outcome.js';
import { repeatPlan } from './repeat-plan.js';
import { scratchDir, startProcess } from './service-process.js';

const site = 'flip';
const carriages = 4;
/** Services that look at a copy at the same time: each waits for most of its own. */
const atOnce = 4;

interface Answer {
  readonly status: number;
  readonly text: string;
}

type Answers = ReadonlyMap<string, Answer>;

async function ask(http: string, path: string): Promise<Answer> {
  const response = await fetch(`${http}${path}`);
  return { status: response.status, text: await response.text() };
}

/** What is asked of every store; `runs` are those of the undamaged one. */
async function askAll(http: string, runs: readonly string[]): Promise<Answers> {
  const paths = ['/api/runs?limit=1000', '/api/alarms?limit=1000', ...runs.flatMap((id) => [`/api/runs/${id}`, `/api/runs/${id}/trace?points=2000`, `/api/runs/${id}/excursions`, `/api/runs/${id}/late`])];
  const answers = new Map<string, Answer>();
  for (const path of paths) answers.set(path, await ask(http, path));
  return answers;
}

/** A store with finished runs, traces, alarms and kept items, as a service leaves it that was killed; and how it answers. */
async function makeStore(dataDir: string, seed: number): Promise<{ readonly runs: readonly string[]; readonly answers: Answers }> {
  let service = startProcess({ dataDir });
  const addresses = await service.listening;
  const client = await mqtt.connectAsync(addresses.mqtt, { clientId: 'flip' });
  await Promise.all(Array.from({ length: carriages }, async (_, at) => {
    const plan = repeatPlan(seed + at, (seam) => `${seam}-${at}`);
    const topic = `weld/${site}/c${at}`;
    await declareSensors(addresses.http, site, `c${at}`, plan.sensors);
    for (const payload of plan.assignments) await client.publishAsync(`${topic}/assignment`, payload, { qos: 1 });
    const sent = plan.sendings.slice(0, 600);
    for (const { items } of sent) await client.publishAsync(`${topic}/readings`, JSON.stringify(items), { qos: 1 });
    // It holds from just after what was received before it, by whatever clock, so that every run is over.
    await client.publishAsync(`${topic}/assignment`, JSON.stringify({ seam: 'behind', run: 1 }), { qos: 1 });
  }));
  await client.endAsync();
  const welding = async (): Promise<number> => (await getAll(addresses.http, '/api/runs?state=welding')).length;
  await until('every run to be finished', async () => (await welding()) === 0, 90);
  await service.kill('SIGTERM');
  service = startProcess({ dataDir });
  const { http } = await service.listening;
  const runs = (await getAll<{ id: string }>(http, '/api/runs')).map(({ id }) => id);
  const answers = await askAll(http, runs);
  await service.kill('SIGTERM');
  // A thread that still reads at the stop leaves the newest of it in the log beside the file, which alone is copied.
  const db = openSqlite(join(dataDir, 'seamwarden.db'));
  db.pragma('wal_checkpoint(truncate)');
  db.close();
  return { runs, answers };
}

/** Turns single bits of a file into their opposites, anywhere in it. */
function flipBits(file: string, count: number, random: Random): number[] {
  const open = openSync(file, 'r+');
  try {
    const { size } = fstatSync(open);
    return Array.from({ length: count }, () => {
      const at = random.whole(0, size - 1);
      const byte = Buffer.alloc(1);
      readSync(open, byte, 0, 1, at);
      byte[0] = (byte[0] ?? 0) ^ (1 << random.whole(0, 7));
      writeSync(open, byte, 0, 1, at);
      return at;
    });
  } finally {
    closeSync(open);
  }
}

interface List {
  readonly items: readonly { readonly id?: string }[];
  readonly unreadable?: number;
}

/** What is wrong with an answer from a damaged store; `told`: the service reports that its store is damaged. */
function wrongAnswer(path: string, expected: Answer, found: Answer, told: boolean): string[] {
  if (found.status === expected.status && found.text === expected.text) return [];
  if (found.status >= 400) {
    const { detail } = JSON.parse(found.text) as { detail?: string };
    const words = detail !== undefined && detail.length > 10 && !detail.includes('its log says why');
    return words && (found.status === 500 || found.status === 503 || (found.status === 404 && told)) ? [] : [`${path}: ${found.status} ${String(detail)}`];
  }
  const [right, now] = [JSON.parse(expected.text), JSON.parse(found.text)] as [List, List];
  if (!('items' in now)) return [`${path}: another answer, and nothing says so: ${firstDifference(expected.text, found.text)}`];
  const byId = new Map(right.items.map((item) => [JSON.stringify(item.id ?? item), JSON.stringify(item)]));
  const others = now.items.filter((item) => byId.get(JSON.stringify(item.id ?? item)) !== JSON.stringify(item));
  const missing = right.items.length - now.items.length - (now.unreadable ?? 0);
  return [
    ...others.filter((item) => !isOfService(item)).map((item) => `${path}: lists ${JSON.stringify(item).slice(0, 200)}`),
    ...(missing > 0 && !told ? [`${path}: ${missing} are missing, and nothing says so`] : []),
  ];
}

/** The alarm by which the service tells the damage. */
function isOfService(item: object): boolean {
  return 'quantity' in item && item.quantity === 'storage';
}

function firstDifference(expected: string, found: string): string {
  let at = 0;
  while (at < expected.length && expected[at] === found[at]) at += 1;
  return `${expected.slice(Math.max(0, at - 60), at + 60)} | ${found.slice(Math.max(0, at - 60), at + 60)}`;
}

/** One damaged copy: it fails to start with a reason in one line, or each answer is right or says that it cannot be given. */
async function lookAt(dataDir: string, store: Awaited<ReturnType<typeof makeStore>>): Promise<{ readonly how: 'refused' | 'told' | 'unseen'; readonly problems: string[] }> {
  const service = startProcess({ dataDir });
  try {
    const addresses = await service.listening.catch(() => null);
    if (addresses === null) {
      const said = service.stderr().trim().split('\n').at(-1) ?? '';
      return { how: 'refused', problems: /^error: .*seamwarden\.db/.test(said) ? [] : [`it does not start, and says: ${said.slice(0, 600)}`] };
    }
    // Until SQLite has looked through the file.
    await wait(1_000);
    const problems: string[] = [];
    const answers = await askAll(addresses.http, store.runs);
    const health = await ask(addresses.http, '/api/health');
    const told = health.status === 503 || (JSON.parse(health.text) as { damage?: string }).damage !== undefined;
    for (const [path, expected] of store.answers) problems.push(...wrongAnswer(path, expected, answers.get(path) ?? { status: 0, text: '' }, told));
    problems.push(...(await acknowledgedAndKept(addresses, dataDir, health.status, told)));
    const unclear = [...answers.values()].some(({ status, text }) => status >= 400 || text.includes('"unreadable"'));
    return { how: told || unclear || service.stderr().includes('"level":50') ? 'told' : 'unseen', problems };
  } finally {
    await service.kill('SIGKILL');
  }
}

/** What is acknowledged now is in the store; where nothing is, health says why. */
async function acknowledgedAndKept({ http, mqtt: url }: { readonly http: string; readonly mqtt: string }, dataDir: string, health: number, told: boolean): Promise<string[]> {
  const client = await mqtt.connectAsync(url, { clientId: 'after' });
  const item = { boot: 'after', seq: 1, time: Date.UTC(2026, 10, 3, 12), current: 0 };
  const acknowledged = await Promise.race([client.publishAsync(`weld/${site}/after/readings`, JSON.stringify({ ...item, voltage: 0 }), { qos: 1 }).then(() => true), wait(4_000).then(() => false)]);
  await client.endAsync(true);
  if (!acknowledged) return (await ask(http, '/api/health')).status === 503 || health === 503 ? [] : ['nothing is acknowledged, and health is 200'];
  try {
    if (keptItems(dataDir, site).has(identityOf(site, 'after', item))) return [];
  } catch {
    // What else is kept may be what is damaged; then it has to be there by its carriage, or the store is said to be damaged as a whole.
    if (told || isKept(dataDir)) return [];
  }
  return ['lost: an item was acknowledged and is not kept'];
}

/** Whether anything is kept of the carriage that came afterwards. */
function isKept(dataDir: string): boolean {
  const db = openSqlite(join(dataDir, 'seamwarden.db'), { readOnly: true });
  try {
    return db.prepare("select 1 from kept where stream_id = (select id from streams where site = ? and carriage = 'after')").get(site) !== undefined;
  } finally {
    db.close();
  }
}

/** Copies of a store with one bit or 40 of them turned over, every second of each. */
export async function flippedBits(copies: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const problems: string[] = [];
  const counted = { refused: 0, told: 0, unseen: 0 };
  try {
    const whole = join(dir.path, 'whole');
    mkdirSync(whole);
    const store = await makeStore(whole, seed);
    if (store.runs.length === 0) problems.push('no run came of it');
    const damaged = Array.from({ length: copies }, (_, copy) => {
      const own = join(dir.path, `copy-${copy}`);
      mkdirSync(own);
      copyFileSync(join(whole, 'seamwarden.db'), join(own, 'seamwarden.db'));
      const bits = copy % 2 === 0 ? 1 : 40;
      const at = flipBits(join(own, 'seamwarden.db'), bits, random);
      return { own, name: `copy ${copy}, ${bits} bits (${at.slice(0, 3).join(', ')})` };
    });
    for (let from = 0; from < copies; from += atOnce) {
      await Promise.all(damaged.slice(from, from + atOnce).map(async ({ own, name }) => {
        const { how, problems: found } = await lookAt(own, store);
        counted[how] += 1;
        problems.push(...found.map((line) => `${name}: ${line}`));
      }));
    }
    return { scenario: 'flipped bits', seed, counted: `${copies} copies, ${counted.refused} refused, ${counted.told} told, ${counted.unseen} that nothing is seen of, ${store.runs.length} runs`, problems };
  } finally {
    dir.remove();
  }
}

import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { seededRandom } from '../model/seeded-random.js';
import { getAll, getJson, until } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { freePort, scratchDir, startProcess, type Addresses, type ServiceProcess } from './service-process.js';

const site = 'alarms';
const step = 100;
/** Everything welded lies this far back, so that the whole of it can be sent at once, ms. */
const before = 120_000;

interface Values {
  readonly current?: number;
  readonly voltage?: number;
  readonly travelSpeed?: number;
}

type Stretch = readonly [seconds: number, values: Values];

const good = { current: 600, voltage: 30, travelSpeed: 550 };

/** What brings one alarm into one state: the weld, and what a person does. */
interface Plan {
  readonly carriage: string;
  readonly quantity: string;
  readonly stretches: readonly Stretch[];
  readonly person: 'nobody' | 'acknowledges' | 'shelves';
  readonly state: Alarm['state'];
}

/**
 * The procedure allows 560 to 640 A, 28 to 32 V, 480 to 620 mm/min and up to 2.5 kJ/mm; on-delay 1 s, off-delay 3 s, smoothing 1 s. 34 V for 5 s is
 * outside; back inside for 6 s is over. At 350 mm/min the heat input is 600 · 30 · 60 / (350 · 1000) = 3.09 kJ/mm (EN 1011-1): outside
 * because the speed is. At 34 V it is 2.23 kJ/mm: inside, for however long a carriage sends on.
 */
const plans: readonly Plan[] = [
  { carriage: 'unacknowledged', quantity: 'voltage', stretches: [[5, {}], [5, { voltage: 34 }]], person: 'nobody', state: 'unacknowledged' },
  { carriage: 'acknowledged', quantity: 'voltage', stretches: [[5, {}], [5, { voltage: 34 }]], person: 'acknowledges', state: 'acknowledged' },
  { carriage: 'returned', quantity: 'voltage', stretches: [[5, {}], [5, { voltage: 34 }], [6, {}]], person: 'nobody', state: 'returned' },
  { carriage: 'shelved', quantity: 'voltage', stretches: [[5, {}], [5, { voltage: 34 }]], person: 'shelves', state: 'shelved' },
  { carriage: 'suppressed', quantity: 'heatInput', stretches: [[5, {}], [14, { travelSpeed: 350 }]], person: 'nobody', state: 'suppressed' },
  { carriage: 'normal', quantity: 'voltage', stretches: [[5, {}], [5, { voltage: 34 }], [6, {}]], person: 'acknowledges', state: 'normal' },
];

const procedure = {
  id: 'SA-1',
  runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, current: { min: 560, max: 640 }, voltage: { min: 28, max: 32 } }], travelSpeed: { min: 480, max: 620 }, heatInput: { max: 2.5 } }],
  alarm: { smoothing: 1, onDelay: 1, offDelay: 3 },
};

async function post(http: string, path: string, body: unknown): Promise<void> {
  const answer = await fetch(http + path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  if (!answer.ok) throw new Error(`POST ${path} answered ${answer.status}: ${await answer.text()}`);
}

interface Sending {
  seq: number;
  time: number;
}

function readings(own: Sending, stretches: readonly Stretch[]): string[] {
  return stretches.flatMap(([seconds, values]) =>
    Array.from({ length: Math.round((seconds * 1000) / step) }, () => {
      own.seq += 1;
      own.time += step;
      return JSON.stringify({ boot: 'b1', seq: own.seq, time: own.time, ...good, ...values });
    }),
  );
}

async function publish(url: string, topic: string, payloads: readonly string[]): Promise<void> {
  const client = await mqtt.connectAsync(url, { clientId: `alarms-${Math.random().toString(36).slice(2)}` });
  await Promise.all(payloads.map((payload) => client.publishAsync(topic, payload, { qos: 1 })));
  await client.endAsync();
}

/** What the broker has retained for each carriage. */
async function retained(url: string, carriages: readonly string[]): Promise<Map<string, Alarm[]>> {
  const client = await mqtt.connectAsync(url, { clientId: `look-${Math.random().toString(36).slice(2)}` });
  const found = new Map<string, Alarm[]>();
  client.on('message', (topic, payload, { retain }) => {
    if (retain) found.set(topic.split('/')[2] ?? '', (JSON.parse(payload.toString('utf8')) as { items: Alarm[] }).items);
  });
  await client.subscribeAsync(`weld/${site}/+/alarms`, { qos: 1 });
  await until('retained alarms of every carriage', () => carriages.every((carriage) => found.has(carriage)), 20, () => [...found.keys()].join(' ')).catch(() => undefined);
  await client.endAsync(true);
  return found;
}

const alarmsOf = (http: string, carriage: string): Promise<Alarm[]> => getAll<Alarm>(http, `/api/alarms?site=${site}&carriage=${carriage}`);
/** Silence raises alarms of its own while the test looks on: they are not what it is about. */
const judged = (alarms: readonly Alarm[]): Alarm[] => alarms.filter(({ quantity }) => quantity !== 'noData').sort((a, b) => a.id.localeCompare(b.id));
const shown = (alarms: readonly Alarm[]): string => judged(alarms).map(({ id, quantity, state, worst, returnedAt, acknowledgedAt, shelvedUntil }) => JSON.stringify([id, quantity, state, worst, returnedAt, acknowledgedAt, shelvedUntil])).join('\n');

/** Lists of the API, the retained topics and the carriages' own answers, one against the other. */
async function agree({ http, mqtt: url }: Addresses): Promise<string[]> {
  const topics = await retained(url, plans.map(({ carriage }) => carriage));
  const carriages = (await getJson(http, '/api/carriages')) as { items: { site: string; carriage: string; alarms: Alarm[] }[] };
  const problems: string[] = [];
  for (const { carriage } of plans) {
    const standing = shown((await alarmsOf(http, carriage)).filter(({ state }) => state !== 'normal'));
    const topic = shown(topics.get(carriage) ?? []);
    const answer = shown(carriages.items.find((own) => own.site === site && own.carriage === carriage)?.alarms ?? []);
    if (topic !== standing) problems.push(`${carriage}: the retained topic says\n${topic}\nGET /api/alarms says\n${standing}`);
    if (answer !== standing) problems.push(`${carriage}: GET /api/carriages says\n${answer}\nGET /api/alarms says\n${standing}`);
  }
  return problems;
}

/**
 * Brings one alarm into each state, kills the service `kills` times at random instants (while carriages send on, too), and looks
 * whether every alarm is there once, under its id and in its state.
 */
export async function alarmScenario(kills: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const mqttPort = await freePort();
  const problems: string[] = [];
  let service: ServiceProcess = startProcess({ dataDir: dir.path, mqttPort });
  try {
    let addresses = await service.listening;
    await post(addresses.http, '/api/procedures', procedure);
    const sendings = new Map<string, Sending>(plans.map(({ carriage }) => [carriage, { seq: 0, time: Math.floor((Date.now() - before) / step) * step }]));
    const send = async (carriage: string, stretches: readonly Stretch[]): Promise<void> => {
      const own = sendings.get(carriage);
      if (own !== undefined) await publish(addresses.mqtt, `weld/${site}/${carriage}/readings`, readings(own, stretches));
    };
    for (const { carriage, stretches } of plans) {
      await publish(addresses.mqtt, `weld/${site}/${carriage}/assignment`, [JSON.stringify({ seam: carriage, run: 1, procedure: procedure.id })]);
      await send(carriage, stretches);
    }
    const ids = new Map<string, string>();
    for (const { carriage, quantity, person } of plans) {
      await until(`an alarm of ${quantity} at ${carriage}`, async () => (await alarmsOf(addresses.http, carriage)).some((alarm) => alarm.quantity === quantity), 20);
      const alarm = (await alarmsOf(addresses.http, carriage)).find((own) => own.quantity === quantity);
      if (alarm === undefined) continue;
      ids.set(carriage, alarm.id);
      if (person === 'acknowledges') await post(addresses.http, `/api/alarms/${alarm.id}/acknowledge`, { by: 'op-07', note: 'seen' });
      if (person === 'shelves') await post(addresses.http, `/api/alarms/${alarm.id}/shelve`, { by: 'op-07', reason: 'meter is being changed', until: Date.now() + 3_600_000 });
    }
    const check = async (when: string): Promise<string> => {
      const all: string[] = [];
      for (const { carriage, quantity, state } of plans) {
        const alarms = await alarmsOf(addresses.http, carriage);
        const own = alarms.filter((alarm) => alarm.quantity === quantity);
        if (own.length !== 1 || own[0]?.id !== ids.get(carriage)) problems.push(`${when}: ${carriage} has ${own.length} alarms of ${quantity}, ids ${own.map(({ id }) => id).join(' ')} instead of ${String(ids.get(carriage))}`);
        else if (own[0]?.state !== state) problems.push(`${when}: ${carriage} is ${String(own[0]?.state)} instead of ${state}`);
        // The worst value may still follow what is sent on.
        all.push(`${carriage}\n${shown(alarms.map((alarm) => (alarm.returnedAt === null ? { ...alarm, worst: null } : alarm)))}`);
      }
      problems.push(...(await agree(addresses)).map((line) => `${when}: ${line}`));
      return all.join('\n');
    };
    const first = await check('before any kill');
    for (let kill = 1; kill <= kills; kill += 1) {
      const sending = random.chance(0.5) ? plans.map(({ carriage, stretches }) => send(carriage, [[0.5, stretches.at(-1)?.[1] ?? {}]]).catch(() => undefined)) : [];
      await wait(random.whole(0, 60));
      await service.kill('SIGKILL');
      await Promise.all(sending.map((own) => Promise.race([own, wait(200)])));
      service = startProcess({ dataDir: dir.path, mqttPort });
      addresses = await service.listening;
      const again = await check(`after kill ${kill}`);
      if (again !== first) problems.push(`after kill ${kill} alarms changed from\n${first}\nto\n${again}`);
    }
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'SIGKILL with an alarm in each state', seed, counted: `${kills} kills, ${plans.length} states`, problems };
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
}

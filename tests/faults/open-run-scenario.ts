import { statSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { ask, getAll, runsOf, until } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { processTime, residentMemory, scratchDir, startProcess } from './service-process.js';

const site = 'hall';
const carriage = 'open';

/**
 * 600 A, 30 V, 600 mm/min: 1.8 kJ/mm. Nineteen seconds apart three of 39 V, which are outside; over 50 mm, 5 s, they bring the heat
 * input to 1.8 · (1 + 0.3 · 3/5) = 2.12 kJ/mm at most, outside as well. So every stretch makes two excursions and one alarm that is not suppressed.
 */
const procedure = {
  id: 'WEEK',
  runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, voltage: { min: 28, max: 32 } }], heatInput: { max: 2 } }],
  alarm: { smoothing: 1, onDelay: 1, offDelay: 3 },
};
const stretches = 7;
const perStretch = 2;
const good = { current: 600, voltage: 30, travelSpeed: 600 };
const out = { current: 0, voltage: 0, travelSpeed: 0 };

/** s that the arc burns and that it is out: less than the quarter of an hour after which a run ends. */
const burns = 150;
const rests = 840;
/** Readings of a cycle, three of which show that the arc is out, and in a message while the time that has passed is sent: whole cycles, so that no arc is left burning in silence. */
const perCycle = burns + 3;
const inMessage = 6 * perCycle;

type Reading = typeof good & { readonly boot: string; readonly seq: number; readonly time: number };

/** One reading a second while the arc burns, from `start` (ms) on, as often as there are cycles. */
function past(start: number, cycles: number): Reading[] {
  const readings: Reading[] = [];
  const add = (time: number, values: typeof good): void => {
    readings.push({ boot: 'b', seq: readings.length, time: start + time * 1_000, ...values });
  };
  for (let cycle = 0; cycle < cycles; cycle += 1) {
    const begun = cycle * (burns + rests);
    for (let second = 0; second < burns; second += 1) {
      const at = second - 20;
      const outside = at >= 0 && at < stretches * 19 && at % 19 < 3;
      add(begun + second, outside ? { ...good, voltage: 39 } : good);
    }
    for (let second = burns; second < perCycle; second += 1) add(begun + second, out);
  }
  return readings;
}

/** What welding costs: PUBACKs of the carriage and of another beside it, ms, and the share of a core. */
interface Cost {
  readonly own: number;
  readonly beside: number;
  readonly slowest: number;
  readonly core: number;
}

/**
 * What is allowed of each, several times what was seen on an idle machine: ms of a PUBACK, cores, MiB, MB, s, kB of an answer, s of it. A carriage
 * that weld a run of a minute takes 0.05 of a core here.
 */
const mostMiddle = 150;
const mostSlowest = 4_000;
const mostCore = 0.6;
const mostMemory = 700;
const mostStored = 250;
const mostStart = 15;
const mostAnswer = 1_000;
const slowestAnswer = 15;

const middle = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;

/** Welds on at 10 Hz for that many seconds, outside for two of every eight; a second carriage sends beside it. */
async function weldOn(client: mqtt.MqttClient, pid: number, from: { seq: number }, seconds: number): Promise<Cost> {
  const own: number[] = [];
  const beside: number[] = [];
  const timed = async (times: number[], name: string, reading: Reading): Promise<void> => {
    const begun = performance.now();
    await client.publishAsync(`weld/${site}/${name}/readings`, JSON.stringify(reading), { qos: 1 });
    times.push(performance.now() - begun);
  };
  const spent = processTime(pid);
  const begun = performance.now();
  for (let step = 0; step < seconds * 10; step += 1) {
    await wait(Math.max(0, begun + step * 100 - performance.now()));
    const voltage = step % 80 >= 40 && step % 80 < 60 ? 39 : 30;
    const reading = { boot: 'b', seq: from.seq, time: Date.now(), ...good };
    await Promise.all([timed(own, carriage, { ...reading, voltage }), timed(beside, 'beside', reading)]);
    from.seq += 1;
  }
  const core = (processTime(pid) - spent) / 1e3 / (performance.now() - begun);
  return { own: middle(own), beside: middle(beside), slowest: Math.max(...own, ...beside), core };
}

const shown = ({ own, beside, slowest, core }: Cost): string => `PUBACK ${own.toFixed(0)} ms, beside it ${beside.toFixed(0)} ms, slowest ${slowest.toFixed(0)} ms, ${(core * 100).toFixed(0)} % of a core`;

async function answer(http: string, path: string): Promise<{ readonly text: string; readonly took: number }> {
  const begun = performance.now();
  const text = await (await ask(`${http}${path}`)).text();
  return { text, took: performance.now() - begun };
}

/** A run that nobody ended for so many days, with thousands of excursions whose alarms nobody acknowledged, goes on at 10 Hz for so many seconds, and after another start for half of them. */
export async function openRun(days: number, seconds: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  let service = startProcess({ dataDir: dir.path });
  const problems: string[] = [];
  const bound = (what: string, value: number, most: number): void => {
    if (!(value <= most)) problems.push(`${what}: ${value.toFixed(2)}, at most ${most}`);
  };
  try {
    let { http, mqtt: url } = await service.listening;
    let client = await mqtt.connectAsync(url, { clientId: carriage });
    const made = await fetch(`${http}/api/procedures`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
    if (!made.ok) throw new Error(`the procedure was answered ${made.status}: ${await made.text()}`);
    await client.publishAsync(`weld/${site}/beside/assignment`, JSON.stringify({ seam: 'B', run: 1, procedure: 'WEEK' }), { qos: 1 });
    await client.publishAsync(`weld/${site}/${carriage}/assignment`, JSON.stringify({ seam: 'A', run: 1, procedure: 'WEEK' }), { qos: 1 });
    const cycles = Math.round((days * 86_400) / (burns + rests));
    const start = Date.now() - cycles * (burns + rests) * 1_000;
    const readings = past(start, cycles);
    const begun = performance.now();
    for (let at = 0; at < readings.length; at += inMessage) await client.publishAsync(`weld/${site}/${carriage}/readings`, JSON.stringify(readings.slice(at, at + inMessage)), { qos: 1 });
    const found = cycles * stretches;
    const seen = { text: '' };
    const cleared = async (): Promise<number> => {
      const own = (await getAll<Carriage>(http, '/api/carriages')).find((one) => one.carriage === carriage);
      seen.text = JSON.stringify(own?.alarmCounts);
      return own?.alarmCounts.cleared ?? 0;
    };
    await until(`${found} alarms`, async () => (await cleared()) === found, 120, () => seen.text);
    const making = (performance.now() - begun) / 1e3;
    const next = { seq: readings.length };
    const costs = [await weldOn(client, service.pid, next, seconds)];
    const memory = residentMemory(service.pid);
    const [run, ...more] = await runsOf(http, site, carriage);
    if (run === undefined || more.length > 0) throw new Error(`${more.length + (run === undefined ? 0 : 1)} runs instead of one`);
    const answers = {
      carriages: await answer(http, '/api/carriages?limit=1000'),
      run: await answer(http, `/api/runs/${run.id}`),
      trace: await answer(http, `/api/runs/${run.id}/trace?points=1500`),
      alarms: await answer(http, `/api/alarms?run=${run.id}`),
    };
    const stored = statSync(join(dir.path, 'seamwarden.db')).size / 1e6;
    const { excursions } = JSON.parse(answers.run.text) as Run;
    if (excursions < found * perStretch) problems.push(`${excursions} excursions, by hand at least ${found * perStretch}`);
    await client.endAsync();
    await service.kill('SIGTERM');
    const stopped = performance.now();
    service = startProcess({ dataDir: dir.path });
    ({ http, mqtt: url } = await service.listening);
    const again = (performance.now() - stopped) / 1e3;
    client = await mqtt.connectAsync(url, { clientId: carriage });
    costs.push(await weldOn(client, service.pid, next, seconds / 2));
    await client.endAsync();
    for (const { own, beside, slowest, core } of costs) {
      bound('the middle PUBACK took ms', Math.max(own, beside), mostMiddle);
      bound('the slowest PUBACK took ms', slowest, mostSlowest);
      bound('cores', core, mostCore);
    }
    bound('MiB of memory', memory, mostMemory);
    bound('MB of database', stored, mostStored);
    bound('the next start took s', again, mostStart);
    for (const [name, { text, took }] of Object.entries(answers)) {
      bound(`kB of the ${name}`, text.length / 1e3, mostAnswer);
      bound(`the ${name} took s`, took / 1e3, slowestAnswer);
    }
    const counted =
      `${days} days, ${readings.length} readings in ${making.toFixed(0)} s, ${found} alarms; ${costs.map(shown).join('; after another start ')}; ${memory.toFixed(0)} MiB of memory, ${stored.toFixed(0)} MB of database; next start ${again.toFixed(1)} s; ` +
      Object.entries(answers).map(([name, { text, took }]) => `${name} ${(text.length / 1e3).toFixed(0)} kB in ${took.toFixed(0)} ms`).join(', ');
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'run left open', seed, counted, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}

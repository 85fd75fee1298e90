import { setTimeout as wait } from 'node:timers/promises';
import mqtt, { type MqttClient } from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Run } from '../../shared/api-types/run.js';
import { seededRandom } from '../model/seeded-random.js';
import { awaitMark, declareSensors, expectedMark, getJson, itemCounts, lateItems, runsOf, until, type StoredBoot } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { repeated, repeatPlan, shuffled, type RepeatPlan, type Sending } from './repeat-plan.js';
import { runDifferences, withTraces, type RunFace } from './same-runs.js';
import type { SentItem } from './kept-items.js';
import { scratchDir, startProcess, type Addresses } from './service-process.js';

const site = 'repeat';

async function send(client: MqttClient, carriage: string, payloads: readonly string[]): Promise<void> {
  await Promise.all(payloads.map((payload) => client.publishAsync(`weld/${site}/${carriage}/readings`, payload, { qos: 1 })));
}

async function assign(client: MqttClient, carriage: string, payloads: readonly string[]): Promise<void> {
  for (const payload of payloads) await client.publishAsync(`weld/${site}/${carriage}/assignment`, payload, { qos: 1 });
}

function marksOf(sendings: readonly Sending[]): StoredBoot[] {
  const boots = new Map<string, number[]>();
  for (const { items } of sendings) for (const { boot, seq } of items) boots.set(boot, [...(boots.get(boot) ?? []), seq]);
  return [...boots].map(([boot, seqs]) => expectedMark(boot, seqs));
}

/** Sends one plan in order to one carriage and shuffled, repeated, partly after its end, to another; tells where they differ. */
async function compareOnce(addresses: Addresses, client: MqttClient, seed: number): Promise<{ readonly sent: number; readonly problems: readonly string[] }> {
  const random = seededRandom(seed);
  const [ordered, mixed] = [`o${seed}`, `m${seed}`];
  const plan: RepeatPlan = repeatPlan(seed, (seam) => `${seam}-${ordered}`);
  const other = repeatPlan(seed, (seam) => `${seam}-${mixed}`);
  const over = JSON.stringify({ seam: null, time: plan.end });
  for (const carriage of [ordered, mixed]) await declareSensors(addresses.http, site, carriage, plan.sensors);
  await assign(client, ordered, [...plan.assignments, over]);
  await send(client, ordered, plan.sendings.map(({ items }) => JSON.stringify(items)));
  // Some of the items come only when the run is long over, and the service has said so.
  const first = new Set(marksOf(plan.sendings).map(({ boot }) => plan.sendings.find(({ items }) => items[0]?.boot === boot)));
  const held = new Set(plan.sendings.filter((sending) => !first.has(sending) && random.chance(0.05)));
  await assign(client, mixed, [...other.assignments, over]);
  const early = repeated(plan.sendings.filter((sending) => !held.has(sending)), random);
  await send(client, mixed, early);
  const before = await runsOf(addresses.http, site, mixed);
  const late = shuffled([...held].flatMap((sending) => [sending, sending]), random).map(({ items }) => JSON.stringify(items));
  await wait(random.pick([0, 300, 1_000]));
  await send(client, mixed, late);
  const marks = marksOf(plan.sendings);
  await awaitMark(addresses.mqtt, site, ordered, marks);
  await awaitMark(addresses.mqtt, site, mixed, marks);
  const rename = (text: string): string => text.replaceAll(ordered, mixed);
  let expected: RunFace[] = [];
  let found: RunFace[] = [];
  let problems: string[] = [];
  // What is stored need not be shown in the same instant, and the last run ends 2 s after the last item.
  for (let k = 0; k < 20; k += 1) {
    expected = await withTraces(addresses.http, await runsOf(addresses.http, site, ordered));
    found = await withTraces(addresses.http, await runsOf(addresses.http, site, mixed));
    problems = runDifferences(expected, found, rename);
    if (problems.length === 0) break;
    await wait(250);
  }
  if (expected.length === 0) problems.push('no run came of it');
  for (const { run } of found) {
    const earlier = before.find(({ id }) => id === run.id);
    if (earlier !== undefined && run.version < earlier.version) problems.push(`version went from ${earlier.version} to ${run.version}`);
    if (run.version > 1 && run.revisedAt === null) problems.push(`version ${run.version} without revisedAt`);
  }
  return { sent: early.length + late.length, problems: problems.map((line) => `SEED=${seed}: ${plan.description}: ${line}`) };
}

/** Repeats, any order and late arrivals against the same items in order, for `seeds` random streams. */
export async function repeatScenario(seeds: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  try {
    const addresses = await service.listening;
    const client = await mqtt.connectAsync(addresses.mqtt, { clientId: 'repeats' });
    const problems: string[] = [];
    let sent = 0;
    let next = seed;
    // A few at a time: most of a comparison is waiting for the mark.
    const compareMany = async (): Promise<void> => {
      while (next < seed + seeds) {
        next += 1;
        const result = await compareOnce(addresses, client, next - 1);
        sent += result.sent;
        problems.push(...result.problems);
      }
    };
    await Promise.all(Array.from({ length: 4 }, compareMany));
    await client.endAsync();
    const { stored, duplicate, refused } = await itemCounts(addresses.http);
    if (refused > 0) problems.push(`${refused} items were refused`);
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_500)}`);
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'repeats, any order, late', seed, counted: `${seeds} seeds, ${sent} messages shuffled, ${stored} items stored, ${duplicate} duplicates`, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}

/** For how long late items still revise a run, s: long enough to send them on a busy machine. */
const lateFor = 6;

/** A run's end, late items within `SEAMWARDEN_LATE_FOR`, and others after it. */
export async function tooLateScenario(seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path, env: { SEAMWARDEN_LATE_FOR: String(lateFor) } });
  const problems: string[] = [];
  try {
    const addresses = await service.listening;
    const client = await mqtt.connectAsync(addresses.mqtt, { clientId: 'late' });
    const random = seededRandom(seed);
    const start = Date.UTC(2026, 10, 2, 12);
    const items = Array.from({ length: 300 }, (_, seq): SentItem => {
      const on = seq < 280;
      return { boot: 'b1', seq, time: start + seq * 100, current: on ? 600 + random.whole(-9, 9) : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 };
    });
    const inTime = new Set(Array.from({ length: 8 }, () => random.whole(5, 270)));
    const tooLate = new Set(Array.from({ length: 8 }, () => random.whole(5, 270)).filter((seq) => !inTime.has(seq)));
    const payloads = (list: readonly SentItem[]): string[] => list.map((item) => JSON.stringify(item));
    const only = async (): Promise<Run> => {
      const [run, ...more] = await runsOf(addresses.http, site, 'late');
      if (run === undefined || more.length > 0) throw new Error(`${1 + more.length} runs instead of one`);
      return run;
    };
    await assign(client, 'late', [JSON.stringify({ seam: 'L', run: 1 })]);
    await send(client, 'late', payloads(items.filter(({ seq }) => !inTime.has(seq) && !tooLate.has(seq))));
    await assign(client, 'late', ['']);
    await until('the run to be finished', async () => (await only()).state === 'finished');
    const finishedAt = Date.now();
    const first = await only();
    await send(client, 'late', payloads(items.filter(({ seq }) => inTime.has(seq))));
    await until('a revised run', async () => (await only()).version > first.version);
    const revised = await only();
    if (revised.arcs[0]?.samples !== 280 - tooLate.size) problems.push(`after late items: ${String(revised.arcs[0]?.samples)} samples instead of ${280 - tooLate.size}`);
    if (revised.id !== first.id || revised.revisedAt === null) problems.push('a revised run keeps its id and says when it was revised');
    if (revised.complete) problems.push('complete, though items are missing');
    await wait(Math.max(0, finishedAt + lateFor * 1_000 + 1_500 - Date.now()));
    const trace = await getJson(addresses.http, `/api/runs/${first.id}/trace?points=2000`);
    await send(client, 'late', payloads(items.filter(({ seq }) => tooLate.has(seq))));
    await until('the late list', async () => (await lateItems(addresses.http, first.id)).length === tooLate.size);
    await wait(600);
    const listed = (await lateItems(addresses.http, first.id)).map(({ seq }) => Number(seq)).sort((a, b) => a - b);
    const expected = [...tooLate].sort((a, b) => a - b);
    if (JSON.stringify(listed) !== JSON.stringify(expected)) problems.push(`listed as late: ${listed.join(', ')}; sent too late: ${expected.join(', ')}`);
    if (JSON.stringify(await only()) !== JSON.stringify(revised)) problems.push('items that came too late changed the run');
    if (JSON.stringify(await getJson(addresses.http, `/api/runs/${first.id}/trace?points=2000`)) !== JSON.stringify(trace)) problems.push('items that came too late changed the trace');
    await client.endAsync();
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path, { lateFor: lateFor * 1e6 }));
    return { scenario: 'too late', seed, counted: `${inTime.size} items late and ${tooLate.size} too late`, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}

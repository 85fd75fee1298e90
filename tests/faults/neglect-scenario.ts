import { get } from 'node:http';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { getAll, getJson, until } from './ask-service.js';
import { neglectAlarms } from './neglected-store.js';
import type { Outcome } from './outcome.js';
import { processTime, residentMemory, scratchDir, startProcess } from './service-process.js';

const site = 'hall';

/** Reads the live feed until that many carriages have been sent, or `seconds` are over; returns how many there were, and whether the service closed the feed. */
function readFeed(http: string, carriages: number, seconds: number): Promise<{ readonly told: number; readonly bytes: number; readonly closed: boolean }> {
  return new Promise((resolve, reject) => {
    const told = new Set<string>();
    let bytes = 0;
    let rest = '';
    const request = get(`${http}/api/live`, (response) => {
      const end = (closed: boolean): void => {
        resolve({ told: told.size, bytes, closed });
        request.destroy();
      };
      response.setEncoding('utf8').on('data', (part: string) => {
        bytes += part.length;
        const lines = (rest + part).split('\n');
        rest = lines.pop() ?? '';
        for (const line of lines) {
          const name = /^data: \{"site":"\w+","carriage":"([\w-]+)"/.exec(line)?.[1];
          if (name !== undefined) told.add(name);
        }
        if (told.size >= carriages) end(false);
      });
      response.on('error', () => undefined).on('close', () => {
        end(true);
      });
      setTimeout(end, seconds * 1_000, false);
    });
    request.on('error', reject);
  });
}

/** ms from a reading to its PUBACK, the middle of 15. */
async function answerTime(client: mqtt.MqttClient, carriage: string): Promise<number> {
  const times: number[] = [];
  for (let seq = 0; seq < 15; seq += 1) {
    const begun = performance.now();
    await client.publishAsync(`weld/${site}/${carriage}/readings`, JSON.stringify({ boot: `b${begun}`, seq, time: Date.now(), current: 0, voltage: 0 }), { qos: 1 });
    times.push(performance.now() - begun);
    await wait(50);
  }
  return times.sort((a, b) => a - b)[7] ?? 0;
}

/** 50 carriages with that many cleared alarms each that nobody acknowledged: an ordinary morning. */
export async function neglectedAlarms(alarmsEach: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const names = Array.from({ length: 50 }, (_, at) => `c${at}`);
  neglectAlarms(dir.path, site, names, alarmsEach);
  const service = startProcess({ dataDir: dir.path });
  const problems: string[] = [];
  try {
    const { http, mqtt: url } = await service.listening;
    await until('all carriages to be shown', async () => (await getAll(http, '/api/carriages')).length === names.length, 20);
    const text = JSON.stringify(await getJson(http, '/api/carriages?limit=1000'));
    const carriages = (JSON.parse(text) as { items: Carriage[] }).items;
    const wrong = carriages.filter(({ alarms, alarmCounts }) => alarms.length !== Math.min(10, alarmsEach) || alarmCounts.cleared !== alarmsEach || alarmCounts.active !== 0);
    if (wrong.length > 0) problems.push(`${wrong.length} carriages show other alarms, such as ${JSON.stringify(wrong[0]?.alarmCounts)}`);
    // Ten alarms of some 800 bytes, and the carriage itself.
    if (text.length > names.length * 10_000) problems.push(`/api/carriages is ${text.length} bytes`);
    const feed = await readFeed(http, names.length, 20);
    if (feed.told !== names.length) problems.push(`the live feed told of ${feed.told} carriages${feed.closed ? ' and was closed' : ''}`);
    const client = await mqtt.connectAsync(url, { clientId: 'neglect' });
    const lamp = new Promise<string>((resolve) => client.once('message', (_topic, payload) => { resolve(payload.toString()); }));
    await client.subscribeAsync(`weld/${site}/c7/alarms`);
    const retained = JSON.parse(await lamp) as { items: unknown[]; counts: { cleared: number } };
    if (retained.items.length > 10 || retained.counts.cleared !== alarmsEach) problems.push(`the retained alarms are ${retained.items.length}, counted ${retained.counts.cleared}`);
    const answered = await fetch(`${http}/api/alarms/c7-3/acknowledge`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' });
    if (!answered.ok) problems.push(`an acknowledgement was answered ${answered.status}`);
    await until('the acknowledged alarm to be counted', async () => (await getAll<Carriage>(http, '/api/carriages')).find(({ carriage }) => carriage === 'c7')?.alarmCounts.cleared === alarmsEach - 1, 10);
    await client.endAsync();
await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'neglected alarms', seed, counted: `50 carriages with ${alarmsEach} alarms each, /api/carriages ${text.length} bytes, feed ${feed.bytes} bytes`, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}

/** So many carriages were heard once: they cost those that weld nothing, and reach every reader. */
export async function manyCarriages(count: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  let service = startProcess({ dataDir: dir.path });
  const problems: string[] = [];
  try {
    let { http, mqtt: url } = await service.listening;
    let client = await mqtt.connectAsync(url, { clientId: 'many' });
    const before = await answerTime(client, 'probe');
    const sent = Array.from({ length: count }, (_, at) => `many-${at}`);
    for (let at = 0; at < count; at += 200) {
      await Promise.all(sent.slice(at, at + 200).map((name) => client.publishAsync(`weld/${site}/${name}/readings`, JSON.stringify({ boot: 'b', seq: 0, time: Date.now(), current: 0, voltage: 0 }), { qos: 1 })));
    }
    await until('all carriages to be shown', async () => (await getAll(http, '/api/carriages')).length === count + 1, 60);
    const after = await answerTime(client, 'probe');
    // The rest of the machine is busy as well, so a bit more than twice as long does not count as growth with the carriages.
    if (after > 2 * before + 50) problems.push(`a PUBACK took ${before.toFixed(0)} ms, with ${count} carriages ${after.toFixed(0)} ms`);
    const feed = await readFeed(http, count + 1, 60);
    if (feed.told !== count + 1) problems.push(`the live feed told of ${feed.told} carriages${feed.closed ? ' and was closed' : ''}`);
    const scraped = performance.now();
    await (await fetch(`${http}/metrics`)).text();
    const metrics = performance.now() - scraped;
    if (metrics > 3_000) problems.push(`/metrics took ${metrics.toFixed(0)} ms`);
    const worked = processTime(service.pid);
    await wait(3_000);
    const idle = (processTime(service.pid) - worked) / 3e6;
    if (idle > 0.2) problems.push(`idle, it takes ${(idle * 100).toFixed(0)} % of a core`);
    const memory = residentMemory(service.pid);
    await client.endAsync();
    await service.kill('SIGTERM');
    const begun = performance.now();
    service = startProcess({ dataDir: dir.path });
    ({ http, mqtt: url } = await service.listening);
    const start = performance.now() - begun;
    if (start > 15_000) problems.push(`the next start took ${(start / 1e3).toFixed(1)} s`);
    client = await mqtt.connectAsync(url, { clientId: 'many' });
    await until('all carriages to be shown again', async () => (await getAll(http, '/api/carriages')).length === count + 1, 30);
    const gone = await fetch(`${http}/api/carriages/${site}/many-3`, { method: 'DELETE' });
    if (gone.status !== 204) problems.push(`taking a carriage away was answered ${gone.status}`);
    await until('the carriage to be gone', async () => (await getAll(http, '/api/carriages')).length === count, 10);
    await client.endAsync();
    const counted = `${count} carriages; PUBACK ${before.toFixed(0)}, then ${after.toFixed(0)} ms; idle ${(idle * 100).toFixed(1)} % of a core; ${memory.toFixed(0)} MiB; /metrics ${metrics.toFixed(0)} ms; next start ${(start / 1e3).toFixed(1)} s`;
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'many carriages', seed, counted, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}

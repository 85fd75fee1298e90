import type { MqttClient } from 'mqtt';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import type { TemperatureMeasurement } from '../../shared/api-types/temperature.js';
import { startService } from '../browser/start-service.js';

let service: Awaited<ReturnType<typeof startService>>;
let client: MqttClient;

beforeAll(async () => {
  service = await startService({ SEAMWARDEN_TEMPERATURE_AGE: '120', SEAMWARDEN_AMBIENT: '25' });
  client = await connectAsync(service.mqtt);
});

afterAll(async () => {
  await client.endAsync();
  await service.stop();
  await service.remove();
});

interface Answered { readonly status: number; readonly body: unknown }

async function ask(method: string, path: string, body?: unknown, type = 'application/json'): Promise<Answered> {
  const sent = body === undefined ? {} : { headers: { 'content-type': type }, body: typeof body === 'string' ? body : JSON.stringify(body) };
  const response = await fetch(service.http + path, { method, ...sent });
  const text = await response.text();
  return { status: response.status, body: text === '' ? null : (JSON.parse(text) as unknown) };
}

const at = '/api/carriages/hall/c1/temperatures';
const items = async <T>(path: string): Promise<T[]> => ((await ask('GET', path)).body as { items: T[] }).items;
const run = async (number: number): Promise<Run | undefined> => (await items<Run>('/api/runs?carriage=c1')).find((own) => own.run === number);
const carriage = async (): Promise<Carriage | undefined> => (await items<Carriage>('/api/carriages')).find((own) => own.carriage === 'c1');
const checks = (own: Run | undefined): unknown => own?.temperatureChecks?.map(({ quantity, value, verdict }) => [quantity, value, verdict]);

let seq = 0;
/** Sends so many readings of 100 ms that end now. */
async function send(count: number, current: number): Promise<void> {
  const end = Date.now();
  const readings = Array.from({ length: count }, (_, index) => ({ boot: 'b', seq: seq + index, time: end - (count - 1 - index) * 100, current, voltage: current === 0 ? 0 : 30, travelSpeed: 600 }));
  seq += count;
  await client.publishAsync('weld/hall/c1/readings', JSON.stringify(readings), { qos: 1 });
}

it('takes a temperature for the run to come over HTTP, refuses wrong ones by name, lists and withdraws them, and keeps all that over a restart', async () => {
  // A group with both limits; nobody has heard of the carriage yet.
  await ask('POST', '/api/procedures', { id: 'P', runGroups: [{ runs: [1, 9], preheat: { min: 80 }, interpassTemperature: { max: 200 } }] });
  expect(await ask('GET', at)).toEqual({ status: 200, body: { items: [], next: null } });
  for (const [body, field] of [
    [{ value: 90 }, 'kind'], [{ kind: 'warm', value: 90 }, 'kind'], [{ kind: 'preheat' }, 'value'], [{ kind: 'preheat', value: 1501 }, 'value'], [{ kind: 'preheat', value: -101 }, 'value'],
    [{ kind: 'preheat', value: 90, at: 'yesterday' }, 'at'], [{ kind: 'preheat', value: 90, place: 'beside' }, 'place'], [{ kind: 'preheat', value: 90, distance: -1 }, 'distance'], [{ kind: 'preheat', value: 90, colour: 'red' }, 'colour'],
  ] as const) {
    expect(await ask('POST', at, body), JSON.stringify(body)).toMatchObject({ status: 400, body: { errors: [{ field }] } });
  }
  expect((await ask('GET', at)).body).toMatchObject({ items: [] });
  const taken: string[] = [];
  for (const value of [-100, 1500, 90]) {
    const { status, body } = await ask('POST', at, { kind: 'preheat', value, seam: 'S', instrument: 'T-7', distance: 50, seamPosition: 1200, by: 'Kim', place: value === 90 ? undefined : 'behind' });
    expect([status, body]).toMatchObject([201, { value, kind: 'preheat', run: null, seam: 'S', place: value === 90 ? 'ahead' : 'behind', instrument: 'T-7', distance: 50, seamPosition: 1200, by: 'Kim', withdrawn: null }]);
    taken.push((body as TemperatureMeasurement).id);
  }
  const first = (await ask('GET', `${at}?limit=2`)).body as { items: TemperatureMeasurement[]; next: string };
  expect(first.items.map(({ value }) => value)).toEqual([90, 1500]);
  expect((await items<TemperatureMeasurement>(`${at}?limit=2&cursor=${first.next}`)).map(({ value }) => value)).toEqual([-100]);
  expect((await ask('DELETE', `${at}/${taken[1] ?? ''}?by=Lee`)).status).toBe(204);
  expect((await ask('DELETE', `${at}/${taken[1] ?? ''}?by=Max`)).status).toBe(204);
  for (const method of ['GET', 'DELETE']) for (const path of [`${at}/nothing`, `/api/carriages/hall/c2/temperatures/${taken[0] ?? ''}`, '/api/runs/nothing/temperatures/x']) expect((await ask(method, path)).status, `${method} ${path}`).toBe(404);
  expect((await ask('POST', '/api/runs/nothing/temperatures', { kind: 'preheat', value: 90 })).status).toBe(404);
  await service.stop();
  await service.startAgain();
  expect((await ask('GET', `${at}/${taken[1] ?? ''}`)).body).toMatchObject({ value: 1500, withdrawn: { by: 'Lee' } });
  expect(await carriage()).toMatchObject({ carriage: 'c1', assignment: null });
});

it('checks the run that is lit next, raises an alarm outside the limits, and evaluates a finished run anew', async () => {
  await client.endAsync();
  client = await connectAsync(service.mqtt);
  await ask('PUT', '/api/carriages/hall/c1/assignment', { seam: 'S', run: 2, procedure: 'P' });
  const old = Date.now() - 121_000;
  await ask('POST', at, { kind: 'interpass', value: 100, at: old });
  await send(5, 0);
  await ask('POST', at, { kind: 'interpass', value: 250 });
  await expect.poll(async () => (await carriage())?.preparation?.missing.filter(({ entry }) => entry === 'interpassMeasured')).toMatchObject([{ reason: 'outside', value: 250, against: 'procedure', max: 200 }]);
  await new Promise((resolve) => setTimeout(resolve, 1_200));
  await send(10, 600);
  await expect.poll(async () => checks(await run(2))).toEqual([['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']]);
  const id = (await run(2))?.id ?? '';
  const alarms = async (): Promise<unknown[]> => (await items<{ quantity: string; limit: number; worst: number; state: string; run: string }>('/api/alarms')).filter((own) => own.run === id && own.quantity !== 'noData').map(({ quantity, limit, worst, state }) => [quantity, limit, worst, state]);
  expect(await alarms()).toEqual([['interpassTemperature', 200, 250, 'unacknowledged']]);
  // What was measured for it is listed with it, wherever it was entered.
  const { startedAt = '' } = (await run(2)) ?? {};
  const right = await ask('POST', `/api/runs/${id}/temperatures`, { kind: 'interpass', value: 185, at: startedAt, by: 'Kim' });
  expect(right).toMatchObject({ status: 201, body: { run: id, seam: null, at: startedAt } });
  expect(await alarms()).toEqual([['interpassTemperature', 200, 250, 'normal']]);
  expect((await items<TemperatureMeasurement>(`/api/runs/${id}/temperatures`)).map(({ value }) => value)).toEqual([185, 250, 100, 90, 1500, -100]);
  await send(5, 0);
  await client.publishAsync('weld/hall/c1/assignment', '', { qos: 1, retain: true });
  await expect.poll(async () => (await run(2))?.state).toBe('finished');
  const before = await run(2);
  expect((await ask('DELETE', `/api/runs/${id}/temperatures/${(right.body as TemperatureMeasurement).id}?by=Lee&reason=wrong+plate`)).status).toBe(204);
  const after = await run(2);
  expect([checks(after), after?.version, after?.heatInput]).toEqual([[['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']], (before?.version ?? 0) + 1, before?.heatInput]);
  expect(await alarms()).toEqual([['interpassTemperature', 200, 250, 'normal']]);
});

it('takes temperatures for the run of an imported log, at that run alone', async () => {
  const csv = ['time,current,voltage,travelSpeed', ...Array.from({ length: 120 }, (_, index) => `${(index / 10).toFixed(1)},${index < 100 ? 600 : 0},${index < 100 ? 30 : 0},600`)].join('\n');
  const start = '2026-11-02T08:00:00Z';
  await ask('POST', '/api/carriages/hall/c9/temperatures', { kind: 'interpass', value: 120, at: '2026-11-02T07:59:30Z' });
  const answer = await ask('POST', `/api/imports?site=hall&carriage=c9&seam=L&run=2&procedure=P&start=${encodeURIComponent(start)}`, csv, 'text/csv');
  const [id = ''] = (answer.body as { runs: string[] }).runs;
  const imported = async (): Promise<Run> => (await ask('GET', `/api/runs/${id}`)).body as Run;
  expect([answer.status, checks(await imported()), (await imported()).temperatures]).toEqual([200, [['preheat', null, 'notMeasured'], ['interpassTemperature', null, 'notMeasured']], []]);
  expect((await ask('POST', `/api/runs/${id}/temperatures`, { kind: 'interpass', value: 150, at: '2026-11-02T07:59:30Z' })).status).toBe(201);
  expect([checks(await imported()), (await imported()).version]).toEqual([[['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']], 2]);
  await service.stop();
  await service.startAgain();
  const [measured] = await items<TemperatureMeasurement>(`/api/runs/${id}/temperatures`);
  expect((await ask('DELETE', `/api/runs/${id}/temperatures/${measured?.id ?? ''}`)).status).toBe(204);
  expect([checks(await imported()), (await imported()).version]).toEqual([[['preheat', null, 'notMeasured'], ['interpassTemperature', null, 'notMeasured']], 3]);
});

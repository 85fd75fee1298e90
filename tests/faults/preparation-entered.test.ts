import { setTimeout as sleep } from 'node:timers/promises';
import type { MqttClient } from 'mqtt';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { startService } from '../browser/start-service.js';

let service: Awaited<ReturnType<typeof startService>>;

beforeAll(async () => {
  service = await startService();
});

afterAll(async () => {
  await service.stop();
  await service.remove();
});

async function send(method: string, path: string, body: unknown): Promise<{ status: number; body: unknown }> {
  const response = await fetch(service.http + path, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  return { status: response.status, body: await response.json() };
}

const enter = (body: unknown): Promise<{ status: number; body: unknown }> => send('PUT', '/api/carriages/hall/c1/preparation', body);

async function inForce(): Promise<Carriage> {
  const { items } = (await (await fetch(`${service.http}/api/carriages`)).json()) as { items: Carriage[] };
  const own = items.find(({ carriage }) => carriage === 'c1');
  if (own === undefined) throw new Error('there is no carriage c1');
  return own;
}

const missing = (own: Pick<Carriage | Run, 'preparation'>): string[] => (own.preparation?.missing ?? []).map(({ entry, reason }) => `${entry} ${reason}`);

/** What the broker keeps for the carriage. */
async function retained(): Promise<unknown> {
  const client = await connectAsync(service.mqtt);
  const kept = new Promise<unknown>((resolve) => {
    client.on('message', (_topic, payload) => {
      resolve(JSON.parse(payload.toString('utf8')));
    });
  });
  await client.subscribeAsync('weld/hall/c1/assignment');
  const own = await Promise.race([kept, sleep(5_000)]);
  await client.endAsync();
  return own;
}

async function burn(client: MqttClient, from: number, to: number, start: number): Promise<void> {
  const sent = Array.from({ length: to - from }, (_, at) =>
    client.publishAsync('weld/hall/c1/readings', JSON.stringify({ boot: 'b', seq: from + at, time: start + (from + at) * 100, current: 600, voltage: 30, travelSpeed: 600 }), { qos: 1 }),
  );
  await Promise.all(sent);
}

it('merges what is entered into the assignment in force, keeps it over a restart and with the run, and lets no planner take it away', async () => {
  expect(await enter({ surfaceCleaned: true })).toMatchObject({ status: 409, body: { detail: 'no assignment is in force on hall/c1' } });
  expect((await (await fetch(`${service.http}/api/carriages`)).json()) as unknown).toMatchObject({ items: [] });
  const client = await connectAsync(service.mqtt);
  await client.publishAsync('weld/hall/c1/assignment', JSON.stringify({ seam: 'A', run: 1, procedure: 'P' }), { qos: 1, retain: true });
  await expect.poll(async () => missing(await inForce())).toHaveLength(9);
  // A procedure that comes later than the assignment that names it asks for more.
  await send('POST', '/api/procedures', { id: 'P', runGroups: [{ runs: [1, 1], preheat: { min: 80 }, arcs: [{ arc: 1, wireDiameter: 4 }] }] });
  await expect.poll(async () => missing(await inForce())).toEqual([
    'surfaceCleaned notEntered', 'fluxDried notEntered', 'fluxTemperature notEntered', 'fluxHours notEntered', 'fluxLot notEntered', 'wireLot notEntered', 'polarityChecked notEntered',
    'electrodeExtension notEntered', 'wireDiameter notEntered', 'trackParallel notEntered', 'preheatMeasured notEntered',
  ]);

  expect(await enter({ seam: 'A', run: 2, surfaceCleaned: true })).toMatchObject({ status: 409, body: { detail: 'the assignment in force on hall/c1 is another one: seam A, run 1' } });
  const first = await enter({ seam: 'A', run: 1, surfaceCleaned: true, flux: { dried: true, temperature: 300, hours: 2 }, fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', wireDiameter: 4 }], by: 'op-07' });
  expect(first.status).toBe(200);
  const second = await enter({ polarityChecked: true, trackParallel: true, arcs: [{ arc: 1, electrodeExtension: 42 }], preheatMeasured: 60 });
  const answer = second.body as AssignmentAnswer;
  expect(answer).toMatchObject({
    seam: 'A', run: 1, procedure: 'P', fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', wireDiameter: 4, electrodeExtension: 42 }],
    preparation: { surfaceCleaned: true, flux: { dried: true, temperature: 300, hours: 2 }, polarityChecked: true, trackParallel: true, preheatMeasured: 60, by: 'local' },
  });
  // A wire of 4 mm asks for 24 to 40 mm (6 to 10 times, common practice), the procedure for 80 °C at least.
  const outside = ['electrodeExtension outside', 'preheatMeasured outside'];
  expect(missing(await inForce())).toEqual(outside);
  expect((await inForce()).assignment).toEqual(answer);
  // Over MQTT times are Unix ms.
  const { at, confirmed, ...entered } = answer.preparation ?? {};
  const confirmedOverMqtt = confirmed?.map((own) => ({ ...own, at: Date.parse(own.at) }));
  expect(confirmedOverMqtt?.length).toBeGreaterThan(0);
  expect(await retained()).toEqual({ ...answer, preparation: { ...entered, at: Date.parse(at ?? ''), confirmed: confirmedOverMqtt } });

  await client.publishAsync('weld/hall/c1/assignment', JSON.stringify({ seam: 'A', run: 1, procedure: 'P', fluxLot: 'F-1', arcs: answer.arcs, thickness: 20 }), { qos: 1, retain: true });
  await expect.poll(async () => (await inForce()).assignment).toEqual({ ...answer, thickness: 20 });
  await client.endAsync();
  await service.stop();
  await service.startAgain();
  expect((await inForce()).assignment).toEqual({ ...answer, thickness: 20 });

  const again = await connectAsync(service.mqtt);
  const start = Date.now();
  await burn(again, 0, 200, start);
  const run = async (): Promise<Run> => {
    const { items } = (await (await fetch(`${service.http}/api/runs?carriage=c1`)).json()) as { items: Run[] };
    const [own] = items;
    if (own === undefined) throw new Error('there is no run');
    return own;
  };
  await expect.poll(async () => missing(await run()), { timeout: 10_000 }).toEqual(outside);
  // What is entered while the run goes on is kept with it, and leaves it with the revision that it was lit under.
  await send('POST', '/api/procedures/P/revisions', { runGroups: [{ runs: [1, 1], preheat: { min: 10 } }] });
  await enter({ arcs: [{ arc: 1, electrodeExtension: 32 }] });
  await expect.poll(async () => missing(await run()), { timeout: 10_000 }).toEqual(['preheatMeasured outside']);
  expect(await run()).toMatchObject({ procedure: { id: 'P', revision: 1 }, flags: [], assignment: { thickness: 20, arcs: [{ electrodeExtension: 32 }] } });
  await again.publishAsync('weld/hall/c1/assignment', '', { qos: 1, retain: true });
  await expect.poll(async () => (await run()).state, { timeout: 10_000 }).toBe('finished');
  expect(missing(await run())).toEqual(['preheatMeasured outside']);
  expect((await inForce()).preparation).toBeNull();
  expect((await enter({ surfaceCleaned: false })).status).toBe(409);
  await again.endAsync();
});

import { afterAll, beforeAll, expect, test } from 'vitest';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { hasBrowser } from './open-browser.js';
import { publish } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

let service: ServiceUnderTest;
beforeAll(async () => {
  service = await startService();
});
afterAll(async () => {
  await service.remove();
});

async function ask(method: string, path: string, body?: object): Promise<{ status: number; body: Record<string, unknown> }> {
  const response = await fetch(`${service.http}/api/${path}`, { method, ...(body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }) });
  return { status: response.status, body: response.status === 204 ? {} : ((await response.json()) as Record<string, unknown>) };
}

test.skipIf(!hasBrowser)('a run tells who corrected its job and why, and keeps what was done and changed at the carriage', async () => {
  const begin = Date.now() - 60_000;
  const readings = Array.from({ length: 211 }, (_, seq) => ({ boot: 'b1', seq, time: begin + seq * 100, ...(seq <= 200 ? { current: 600, voltage: 30, travelSpeed: 550 } : { current: 0, voltage: 0, travelSpeed: 0 }) }));
  await publish(service.mqtt, [
    { topic: 'weld/hall-a/j1/assignment', payload: { seam: 'J-1', run: 1, fluxLot: 'F-1' } },
    { topic: 'weld/hall-a/j1/readings', payload: readings },
  ]);
  const list = async (): Promise<{ id: string; state: string; assignment: AssignmentAnswer }[]> => ((await ask('GET', 'runs?seam=J-1')).body as { items: { id: string; state: string; assignment: AssignmentAnswer }[] }).items;
  await expect.poll(async () => (await list()).length, { timeout: 15_000 }).toBe(1);
  const added = await ask('POST', 'carriages/hall-a/j1/materials', { seam: 'J-1', run: 1, kind: 'fluxRefilled', lot: 'F-2', travelled: 120, by: 'Kim' });
  expect(added).toMatchObject({ status: 200, body: { fluxLot: 'F-1', materials: [{ kind: 'fluxRefilled', arc: null, lot: 'F-2', travelled: 120, by: 'Kim' }] } });
  expect((await ask('POST', 'carriages/hall-a/j1/materials', { seam: 'J-1', run: 2, kind: 'fluxRefilled' })).status).toBe(409);
  await ask('PUT', 'carriages/hall-a/j1/preparation', { surfaceCleaned: true, by: 'Kim' });
  await ask('DELETE', 'carriages/hall-a/j1/assignment?by=Kim');
  await expect.poll(async () => (await list())[0]?.state, { timeout: 15_000 }).toBe('finished');
  const run = (await list())[0];
  const corrected = await ask('PUT', `runs/${run?.id ?? ''}/assignment`, { seam: 'J-1', run: 2, fluxLot: 'F-1', by: 'Lee', reason: 'Wrong run chosen' });
  expect(corrected).toMatchObject({
    status: 200,
    body: {
      run: 2, assignment: { run: 2, materials: [{ lot: 'F-2' }], preparation: { surfaceCleaned: true } },
      preparation: { confirmed: [{ entry: 'surfaceCleaned', arc: null, by: 'Kim' }] },
    },
  });
  const changes = await ask('GET', `runs/${run?.id ?? ''}/job-changes`);
  expect(changes).toMatchObject({ status: 200, body: { items: [{ by: 'Lee', reason: 'Wrong run chosen', before: { run: 1 }, after: { run: 2 } }, { by: 'Kim', reason: null, before: { run: 1 }, after: null }] } });
}, 60_000);

test.skipIf(!hasBrowser)('a carriage tells what was confirmed at it, and by whom', async () => {
  await publish(service.mqtt, [{ topic: 'weld/hall-a/j2/assignment', payload: { seam: 'J-2', run: 1, arcs: [{ arc: 1, wireLot: 'W-1' }] } }]);
  const carriage = async (): Promise<unknown> => ((await ask('GET', 'carriages')).body as { items: { carriage: string; preparation: unknown }[] }).items.find((own) => own.carriage === 'j2')?.preparation;
  await expect.poll(carriage).toMatchObject({ confirmed: [] });
  await ask('PUT', 'carriages/hall-a/j2/preparation', { arcs: [{ arc: 1, wireLot: 'W-1' }], by: 'Kim' });
  await expect.poll(carriage).toMatchObject({ confirmed: [{ entry: 'wireLot', arc: 1, by: 'Kim' }] });
});

import { setTimeout as sleep } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startService } from '../browser/start-service.js';

let service: Awaited<ReturnType<typeof startService>>;

beforeAll(async () => {
  service = await startService();
});

afterAll(async () => {
  await service.stop();
  await service.remove();
});

interface Answered {
  readonly id: string;
  readonly state: string;
  readonly energy: number;
  readonly lengths: { readonly inside: number; readonly outside: number; readonly notProven: number; readonly excluded: number };
}

async function onlyRun(): Promise<Answered> {
  const answer = (await (await fetch(`${service.http}/api/runs?carriage=c1`)).json()) as { items: Answered[] };
  const [run] = answer.items;
  if (run === undefined) throw new Error('there is no run');
  return run;
}

it('keeps the figures of a run that was assigned afterwards when its records are written again', async () => {
  const client = await connectAsync(service.mqtt);
  const send = (kind: string, payload: string): Promise<unknown> => client.publishAsync(`weld/hall/c1/${kind}`, payload, { qos: 1 });
  await send('assignment', JSON.stringify({ seam: 'A', run: 1 }));
  // Beside the grid of rows: where a run is cut off with a row, its last seconds count as crater once it is assigned.
  const start = Math.floor(Date.now() / 100) * 100 + 37 - 120_000;
  const sent = Array.from({ length: 301 }, (_, seq) =>
    send('readings', JSON.stringify({ boot: 'b', seq, time: start + seq * 100, current: 600, voltage: 30, travelSpeed: 600 })),
  );
  await Promise.all(sent);
  // The arc still burns: the newest rows are provisional when the assignment ends.
  await send('assignment', '');
  await sleep(2500);
  const { id, state } = await onlyRun();
  expect(state).toBe('finished');
  const put = await fetch(`${service.http}/api/runs/${id}/assignment`, {
    method: 'PUT',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ seam: 'A', run: 2, runOn: 100 }),
  });
  expect(put.status).toBe(200);
  const assigned = await onlyRun();
  // 300 intervals of 0.1 s at 600 A and 30 V; 300 mm, of which the first 100 are the run-on tab.
  expect(assigned.energy).toBeCloseTo(540, 6);
  expect(assigned.lengths.inside).toBeCloseTo(200, 6);
  expect(assigned.lengths.excluded).toBeCloseTo(100, 6);
  await send('status', 'online');
  await sleep(2500);
  expect(await onlyRun()).toEqual(assigned);
  await client.endAsync();
});

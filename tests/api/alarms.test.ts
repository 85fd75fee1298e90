import { afterAll, beforeAll, expect, test } from 'vitest';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { alarmText } from './fake-port.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
let asker: Asker;

interface Listed {
  readonly items: readonly { readonly id: string; readonly state: string }[];
  readonly next: string | null;
}

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
  const add = api.writer.prepare("INSERT INTO alarms (id, stream_id, run_id, site, carriage, state, facts, record) VALUES (?, NULL, ?, ?, ?, ?, '{}', ?)");
  add.run('a1', 'r1', 'hall-1', 'c1', 'normal', alarmText('a1', 'normal'));
  add.run('a2', 'r1', 'hall-1', 'c1', 'unacknowledged', alarmText('a2', 'unacknowledged'));
  add.run('a3', 'r2', 'hall-1', 'c2', 'shelved', alarmText('a3', 'shelved', { carriage: 'c2', run: 'r2' }));
});

afterAll(async () => {
  await api.stop();
});

const list = async (query: string): Promise<string[]> => ((await asker.ask('GET', `/api/alarms${query}`)).body as Listed).items.map(({ id }) => id);

test('alarms are listed, those raised last first, by state, carriage and run', async () => {
  expect(await list('')).toEqual(['a3', 'a2', 'a1']);
  expect(await list('?state=unacknowledged')).toEqual(['a2']);
  expect(await list('?carriage=c1')).toEqual(['a2', 'a1']);
  expect(await list('?run=r2')).toEqual(['a3']);
  const first = (await asker.ask('GET', '/api/alarms?limit=2')).body as Listed;
  expect(await list(`?limit=2&cursor=${first.next ?? ''}`)).toEqual(['a1']);
  expect((await asker.ask('GET', '/api/alarms?state=loud')).status).toBe(400);
});

test('alarms are filtered by whether they are active, priority, seam and arrival; all pages are counted', async () => {
  const add = api.writer.prepare(
    "INSERT INTO alarms (id, stream_id, run_id, site, carriage, state, facts, record, recorded, priority, seam, over) VALUES (?, NULL, 'r9', 'hall-9', 'c9', ?, '{}', ?, ?, ?, ?, ?)",
  );
  const of = (id: string, state: string, change: { seam: string; priority: string; recordedAt: string; over?: true; [field: string]: unknown }): void => {
    const { over, ...rest } = change;
    add.run(id, state, alarmText(id, state, { site: 'hall-9', carriage: 'c9', run: 'r9', ...rest }), Date.parse(rest.recordedAt) * 1000, rest.priority, rest.seam, over ? 1 : 0);
  };
  of('b1', 'returned', { seam: 'S-1', priority: 'low', returnedAt: '2026-11-24T08:00:00.000Z', raisedAt: '2026-11-24T07:59:00.000Z', recordedAt: '2026-11-24T07:59:00.000Z', over: true });
  // Its clock is a day ahead: what counts is when the service heard of it.
  of('b2', 'unacknowledged', { seam: 'S-2', priority: 'high', raisedAt: '2026-11-25T09:00:00.000Z', recordedAt: '2026-11-24T09:00:00.000Z' });
  of('b3', 'normal', { seam: 'S-2', priority: 'medium', withdrawn: 'crater', recordedAt: '2026-11-24T10:00:00.000Z', over: true });
  expect(await list('?carriage=c9&active=true')).toEqual(['b2']);
  expect(await list('?carriage=c9&active=false')).toEqual(['b3', 'b1']);
  expect(await list('?carriage=c9&priority=low')).toEqual(['b1']);
  expect(await list('?seam=S-2')).toEqual(['b3', 'b2']);
  expect(await list('?carriage=c9&from=2026-11-24T08:30:00Z&to=2026-11-24T10:00:00Z')).toEqual(['b2']);
  const page = (await asker.ask('GET', '/api/alarms?carriage=c9&limit=1')).body;
  expect(page).toMatchObject({ total: 3, items: [{ id: 'b3' }] });
  expect((await asker.ask('GET', '/api/alarms?active=perhaps')).status).toBe(400);
  api.writer.prepare("DELETE FROM alarms WHERE carriage = 'c9'").run();
});

test('an alarm is unshelved, and many are acknowledged in one step', async () => {
  expect((await asker.ask('POST', '/api/alarms/a3/unshelve', json({ by: 'op-07' }))).status).toBe(200);
  expect(api.port.alarmsChanged.splice(0)).toEqual([{ id: 'a3', by: 'op-07', reason: 'unshelve' }]);
  const named = await asker.ask('POST', '/api/alarms/acknowledge', json({ ids: ['a1', 'a2'], by: 'qa-1', note: 'seen' }));
  expect([named.status, named.body]).toEqual([200, { acknowledged: 2 }]);
  await asker.ask('POST', '/api/alarms/acknowledge', json({ carriage: { site: 'hall-1', carriage: 'c1' }, cleared: true, by: 'qa-1' }));
  expect(api.port.acknowledgedTogether).toEqual([
    { which: { ids: ['a1', 'a2'], cleared: false }, by: 'qa-1', note: 'seen' },
    { which: { carriage: { site: 'hall-1', carriage: 'c1' }, cleared: true }, by: 'qa-1', note: null },
  ]);
  for (const wrong of [{}, { ids: ['a1'], run: 'r1' }, { ids: [] }, { ids: Array.from({ length: 501 }, (_, at) => `a${at}`) }]) {
    expect((await asker.ask('POST', '/api/alarms/acknowledge', json(wrong))).body, JSON.stringify(wrong).slice(0, 40)).toMatchObject({ status: 400, errors: [{ field: 'ids' }] });
  }
});

test('an alarm that could not be written yet is at the head of the list, once', async () => {
  const storage = alarmText('s1', 'unacknowledged', { site: null, carriage: null, run: null, arc: null, quantity: 'storage', limit: null, worst: null, travelled: null, seamPosition: null });
  api.port.ofService = [storage, alarmText('a1', 'normal')];
  expect(await list('')).toEqual(['s1', 'a3', 'a2', 'a1']);
  expect(await list('?carriage=c1')).toEqual(['a2', 'a1']);
  expect(await list('?state=shelved')).toEqual(['a3']);
  api.port.ofService = [];
});

test('acknowledging accepts a name and a note, or neither', async () => {
  const done = await asker.ask('POST', '/api/alarms/a2/acknowledge', json({ by: 'op-07', note: 'tube changed' }));
  expect([done.status, (done.body as { id: string }).id]).toEqual([200, 'a1']);
  await asker.ask('POST', '/api/alarms/a2/acknowledge', json({}));
  expect(api.port.alarmsChanged.splice(0)).toEqual([
    { id: 'a2', by: 'op-07', note: 'tube changed' },
    { id: 'a2', by: 'local', note: null },
  ]);
});

test('shelving accepts a time at most a day ahead and a reason; errors are reported at the field', async () => {
  const until = Date.now() + 600_000;
  expect((await asker.ask('POST', '/api/alarms/a2/shelve', json({ until, reason: 'sensor is being changed', by: 'qa-1' }))).status).toBe(200);
  expect(api.port.alarmsChanged.splice(0)).toEqual([{ id: 'a2', by: 'qa-1', reason: 'sensor is being changed', until: until * 1000 }]);
  for (const wrong of [Date.now() - 1, Date.now() + 2 * 86_400_000, 'soon']) {
    const answer = await asker.ask('POST', '/api/alarms/a2/shelve', json({ until: wrong, reason: 'x' }));
    expect(answer.body, String(wrong)).toMatchObject({ status: 400, errors: [{ field: 'until' }] });
  }
  expect((await asker.ask('POST', '/api/alarms/a2/shelve', json({ until }))).body).toMatchObject({ status: 400, errors: [{ field: 'reason' }] });
  expect(api.port.alarmsChanged).toEqual([]);
});

test('an alarm that is not there, one that is over, and storage that fails', async () => {
  const statuses: number[] = [];
  for (const failed of ['notFound', 'conflict', 'storage'] as const) {
    api.port.failure = { failed, reason: 'because' };
    statuses.push((await asker.ask('POST', '/api/alarms/zz/acknowledge', json({}))).status);
  }
  api.port.failure = null;
  expect(statuses).toEqual([404, 409, 503]);
});

import { afterAll, beforeAll, expect, test } from 'vitest';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { carriageText } from './fake-port.js';
import { firstStart, madeRows } from './made-run.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';
import { arcNumbers, runNumbers } from '../named-rows.js';

let api: Api;
let asker: Asker;

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
  api.port.shown = [carriageText('hall-2', 'c2', 610), carriageText('hall-1', 'c9', 612.4)];
  api.addRun({ id: 'r1' }, { zones: [{ zone: 'ignition', from: firstStart, to: firstStart + 2e6, arcs: [1] }, { zone: 'weld', from: firstStart + 2e6, to: firstStart + 60e6, arcs: [] }] });
  api.addRun({ id: 'r2', started: firstStart + 3600e6, state: 'welding', endedAt: null });
  const rows = madeRows(firstStart);
  api.traces.appendArc('r1', 1, arcNumbers(rows.arc));
  api.traces.appendRun('r1', runNumbers(rows.run));
  const item = { boot: 'b7f1', seq: 7, time: firstStart, arc: 1, interval: 1, count: 2, current: [612.4, 611.9], voltage: 31, travelSpeed: 520, wireFeedSpeed: null, travel: null, plateTemperature: null };
  api.writer
    .prepare('INSERT INTO late (run_id, received, boot, seq, arc, time, item) VALUES (?, ?, ?, ?, ?, ?, ?)')
    .run('r1', firstStart + 1e9, 'b7f1', 7, 1, firstStart, JSON.stringify(item));
  api.writer
    .prepare('INSERT INTO refused (received, topic, reason, size, head) VALUES (?, ?, ?, ?, ?)')
    .run(firstStart, 'weld/hall-2/c1/readings', 'no JSON', 3, Buffer.from([0x7b, 0xff, 0x41]));
});

afterAll(async () => {
  await api.stop();
});

test('health says when storage last accepted a write, and answers 503 with the reason when it accepts none', async () => {
  const well = await asker.ask('GET', '/api/health');
  expect([well.status, well.body]).toEqual([200, { status: 'ok', writtenAt: '2026-11-23T08:00:01.000Z' }]);
  const before = api.port.storage;
  api.port.storage = { ok: false, reason: 'no space left on device', writtenAt: null, damage: null };
  const ill = await asker.ask('GET', '/api/health');
  api.port.storage = before;
  expect(ill.status).toBe(503);
  expect(ill.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  expect(ill.body).toMatchObject({ status: 503, title: 'Service Unavailable', detail: 'no space left on device', instance: '/api/health' });
});

test('the service tells its version, the zone and the shifts of the plant and where carriages connect', async () => {
  const { status, body } = await asker.ask('GET', '/api/service');
  expect([status, body]).toEqual([200, { version: '0.1.0', timeZone: 'Europe/Berlin', shifts: [{ name: 'early', begins: '06:00' }, { name: null, begins: '14:00' }], startedAt: '2026-11-23T08:00:00.000Z', mqtt: { embedded: true, host: '127.0.0.1', port: 1883 }, http: { host: '127.0.0.1', port: 8080 } }]);
});

test('carriages are listed by name, page by page', async () => {
  const first = (await asker.ask('GET', '/api/carriages?limit=1')).body as { items: { carriage: string }[]; next: string };
  expect(first.items.map((own) => own.carriage)).toEqual(['c9']);
  const second = (await asker.ask('GET', `/api/carriages?limit=1&cursor=${first.next}`)).body as typeof first;
  expect(second.items.map((own) => own.carriage)).toEqual(['c2']);
  expect(second.next).toBeNull();
});

test('an assignment is begun and ended through the port', async () => {
  const sent = { seam: 'DK-0417/L2', run: 3, time: 1795590000000, direction: -1, arcs: [{ arc: 1, wireDiameter: 4 }] };
  const put = await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ ...sent, by: 'op-07' }));
  expect([put.status, put.body]).toEqual([200, { ...sent, time: '2026-11-25T07:00:00.000Z' }]);
  const ended = await asker.ask('DELETE', '/api/carriages/hall-2/c1/assignment');
  expect([ended.status, ended.text]).toEqual([204, '']);
  expect(api.port.assigned).toEqual([
    { site: 'hall-2', carriage: 'c1', assignment: { ...sent, time: 1795590000000 * 1000 } },
    { site: 'hall-2', carriage: 'c1', assignment: null },
  ]);
});

test('a wrong assignment is answered with the field', async () => {
  const wrong = await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ seam: 'S', run: 0 }));
  expect(wrong.status).toBe(400);
  expect(wrong.body).toMatchObject({ errors: [{ field: 'run' }] });
  const unknown = await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ seam: 'S', run: 1, seamLenght: 6 }));
  expect(unknown.body).toMatchObject({ status: 400, errors: [{ field: 'seamLenght', reason: 'is not known here' }] });
  const work = await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ seam: 'S', run: 1, motion: 'work' }));
  expect(work.body).toMatchObject({ status: 400, errors: [{ field: 'diameter' }] });
});

test('storage that fails is answered 503, whatever was to be written', async () => {
  api.port.failure = { failed: 'storage', reason: 'disk full' };
  const answers = [
    await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ seam: 'S', run: 1 })),
    await asker.ask('DELETE', '/api/carriages/hall-2/c1/assignment'),
    await asker.ask('PUT', '/api/runs/r1/assignment', json({ seam: 'S', run: 1 })),
    await asker.ask('POST', '/api/procedures', json({ id: 'X' })),
    await asker.ask('POST', '/api/procedures/X/revisions', json({})),
    await asker.ask('POST', '/api/imports?carriage=c1', { headers: { 'content-type': 'text/csv' }, body: 'time,current,voltage\n' }),
  ];
  api.port.failure = null;
  expect(answers.map((own) => own.status)).toEqual([503, 503, 503, 503, 503, 503]);
});

test('a run is answered as it was recorded', async () => {
  const run = await asker.ask('GET', '/api/runs/r1');
  expect(run.body).toMatchObject({ id: 'r1', heatInput: 1.8, startedAt: '2026-11-23T08:00:00.000Z' });
  expect((await asker.ask('GET', '/api/runs/none')).status).toBe(404);
});

test('a run that is not the one announced is not answered', async () => {
  api.addRun({ id: 'r-odd', clock: 'sundial' as 'steady', started: firstStart - 1e9 });
  const odd = await asker.ask('GET', '/api/runs/r-odd');
  api.writer.prepare("DELETE FROM runs WHERE id = 'r-odd'").run();
  expect(odd.status).toBe(500);
  expect(api.logged.some((line) => line.includes('an answer does not fit its schema') && line.includes('clock'))).toBe(true);
});

test('the checker of these tests sees a field that is not announced', async () => {
  api.writer.prepare("UPDATE runs SET record = json_set(record, '$.surprise', 1) WHERE id = 'r2'").run();
  await expect(asker.ask('GET', '/api/runs')).rejects.toThrow('GET /api/runs: ');
  api.writer.prepare("UPDATE runs SET record = json_remove(record, '$.surprise') WHERE id = 'r2'").run();
  await asker.ask('GET', '/api/runs');
});

test('a finished run can be assigned, one that is welding cannot', async () => {
  expect((await asker.ask('PUT', '/api/runs/r1/assignment', json({ seam: 'S-9', run: 2 }))).status).toBe(200);
  expect(api.port.runsAssigned).toEqual([{ run: 'r1', assignment: { seam: 'S-9', run: 2 } }]);
  expect((await asker.ask('PUT', '/api/runs/r2/assignment', json({ seam: 'S-9', run: 2 }))).status).toBe(409);
  expect((await asker.ask('PUT', '/api/runs/r9/assignment', json({ seam: 'S-9', run: 2 }))).status).toBe(404);
});

test('a trace holds what was stored, on each axis', async () => {
  const whole = (await asker.ask('GET', '/api/runs/r1/trace')).body as { rows: number; unit: string; arcs: { at: number[]; current: number[]; heatInput: number[] }[] };
  expect([whole.rows, whole.unit, whole.arcs[0]?.at.length]).toEqual([600, 's', 600]);
  // 600 A · 30 V / 10 mm/s = 1.8 kJ/mm (EN 1011-1).
  expect(whole.arcs[0]?.current[300]).toBeCloseTo(600, 9);
  expect(whole.arcs[0]?.heatInput[300]).toBeCloseTo(1.8, 9);
  const part = (await asker.ask('GET', '/api/runs/r1/trace?from=10&to=20&points=5')).body as typeof whole;
  expect(part.arcs[0]?.at).toEqual([10, 12, 14, 16, 18]);
  expect(part.rows).toBe(100);
  const place = (await asker.ask('GET', '/api/runs/r1/trace?axis=seamPosition&from=6060&to=5960&points=1000')).body as typeof whole;
  // startOffset + direction · travelled, from 6060 downwards.
  expect([place.unit, place.arcs[0]?.at[0], place.arcs[0]?.at[100], place.rows]).toEqual(['mm', 6060, 5960, 101]);
  expect(((await asker.ask('GET', '/api/runs/r1/trace?arc=2')).body as typeof whole).arcs).toEqual([]);
  expect((await asker.ask('GET', '/api/runs/none/trace')).status).toBe(404);
});

test('a trace has the stretches of the whole run, whatever part is requested', async () => {
  // 10 mm/s: 2 s are 20 mm, 60 s 600 mm.
  const zones = [
    { zone: 'ignition', fromTime: '2026-11-23T08:00:00.000Z', toTime: '2026-11-23T08:00:02.000Z', fromTravelled: 0, toTravelled: 20 },
    { zone: 'weld', fromTime: '2026-11-23T08:00:02.000Z', toTime: '2026-11-23T08:01:00.000Z', fromTravelled: 20, toTravelled: 600 },
  ];
  for (const query of ['', '?axis=travelled', '?from=30&to=31&points=5']) {
    expect((await asker.ask('GET', `/api/runs/r1/trace${query}`)).body, query).toMatchObject({ zones });
  }
});

test('a profile runs along the seam with the zones of the run', async () => {
  const profile = (await asker.ask('GET', '/api/runs/r1/profile?bin=100')).body as { travelled: number[]; seamPosition: number[]; heatInput: number[]; zone: string[]; covered: number[] };
  expect(profile.travelled).toEqual([0, 100, 200, 300, 400, 500]);
  expect(profile.seamPosition).toEqual([6060, 5960, 5860, 5760, 5660, 5560]);
  expect(profile.zone).toEqual(['ignition', 'weld', 'weld', 'weld', 'weld', 'weld']);
  for (const value of profile.heatInput) expect(value).toBeCloseTo(1.8, 9);
});

test('the offset of an arc comes from the revision that the run was welded by', async () => {
  const group = (offset: number): object => ({ runs: [1, 9], arcs: [{ arc: 1, offset }] });
  await asker.ask('POST', '/api/procedures', json({ id: 'OFF', runGroups: [group(60)] }));
  await asker.ask('POST', '/api/procedures/OFF/revisions', json({ runGroups: [group(500)] }));
  const started = firstStart - 7200e6;
  api.addRun({ id: 'r-off', started, procedure: { id: 'OFF', revision: 1 } });
  const rows = madeRows(started);
  api.traces.appendArc('r-off', 1, arcNumbers(rows.arc));
  api.traces.appendRun('r-off', runNumbers(rows.run));
  const trace = (await asker.ask('GET', '/api/runs/r-off/trace?axis=seamPosition')).body as { arcs: { at: number[] }[] };
  // An arc 60 mm behind is over 6060 + 60 on a seam that counts down.
  expect(trace.arcs[0]?.at[0]).toBe(6120);
});

test('late and refused entries are listed', async () => {
  const late = await asker.ask('GET', '/api/runs/r1/late');
  expect(late.body).toMatchObject({ items: [{ boot: 'b7f1', seq: 7, item: { samples: 2, current: [612.4, 611.9], voltage: 31 } }], next: null });
  const refused = await asker.ask('GET', '/api/refused');
  expect(refused.body).toMatchObject({ items: [{ topic: 'weld/hall-2/c1/readings', reason: 'no JSON', size: 3, head: '{\uFFFDA' }] });
});

test('a log is imported with the options of its query', async () => {
  const csv = 'time,current,voltage\n0,600,30\n0.1,600,30\n0.2,x,30\n';
  const given = new URLSearchParams({ carriage: 'c1', seam: 'S/1', run: '2', start: '2026-11-23T08:00:00+01:00', assignment: '{"run":9,"thickness":20}', file: 'log 7.csv', by: 'op-07' });
  const done = await asker.ask('POST', `/api/imports?${given.toString()}`, { headers: { 'content-type': 'text/csv' }, body: csv });
  expect([done.status, done.body]).toEqual([200, api.port.importAnswer]);
  expect(api.port.imported.at(-1)).toEqual({ csv, site: 'import', carriage: 'c1', start: Date.UTC(2026, 10, 23, 7), assignment: { seam: 'S/1', run: 2, thickness: 20 }, file: 'log 7.csv', by: 'op-07' });
  const bytes = await asker.ask('POST', '/api/imports?carriage=c1', { headers: { 'content-type': 'text/csv' }, body: Buffer.from([0x74, 0xff]) });
  expect([bytes.status, (bytes.body as { detail: string }).detail]).toEqual([400, 'The body is not UTF-8.']);
  expect((await asker.ask('POST', '/api/imports', { headers: { 'content-type': 'text/csv' }, body: csv })).body).toMatchObject({ status: 400, errors: [{ field: 'carriage' }] });
});

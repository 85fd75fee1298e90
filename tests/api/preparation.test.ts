import { afterAll, beforeAll, expect, test } from 'vitest';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
let asker: Asker;
const path = '/api/carriages/hall-2/c1/preparation';

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
});

afterAll(async () => {
  await api.stop();
});

test('entries are handed on as they were made, and the assignment in force is answered with them', async () => {
  const put = await asker.ask('PUT', path, json({ seam: 'S-9', run: 2, surfaceCleaned: true, flux: { dried: true, hours: null }, trackParallel: null, fluxLot: '', arcs: [{ arc: 2, wireLot: 'W-2', electrodeExtension: 32 }], by: 'op-07' }));
  expect([put.status, put.body]).toEqual([
    200,
    {
      seam: 'S-9', run: 2, time: '2026-11-25T07:00:00.000Z', arcs: [{ arc: 2, wireLot: 'W-2', electrodeExtension: 32 }],
      preparation: {
        surfaceCleaned: true, flux: { dried: true }, by: 'op-07', at: '2026-11-25T07:01:00.000Z',
        confirmed: [['surfaceCleaned', null, true], ['fluxDried', null, true], ['wireLot', 2, 'W-2'], ['electrodeExtension', 2, 32]].map(([entry, arc, value]) => ({ entry, arc, value, by: 'op-07', at: '2026-11-25T07:01:00.000Z' })),
      },
    },
  ]);
  expect(api.port.prepared.at(-1)).toEqual({
    site: 'hall-2', carriage: 'c1',
    entered: {
      seam: 'S-9', run: 2, by: 'op-07',
      change: { surfaceCleaned: true, flux: { dried: true, hours: null }, trackParallel: null, fluxLot: null, arcs: [{ arc: 2, wireLot: 'W-2', electrodeExtension: 32 }] },
    },
  });
  expect(api.logged.some((line) => line.includes('preparation entered') && line.includes('op-07'))).toBe(true);
});

test('without a name and an assignment, the entry goes into the current assignment', async () => {
  await asker.ask('PUT', path, json({ polarityChecked: true }));
  expect(api.port.prepared.at(-1)?.entered).toMatchObject({ seam: null, run: null, by: 'local', change: { polarityChecked: true } });
});

test.each([
  [{ surfaceCleaned: 'yes' }, 'surfaceCleaned'],
  [{ flux: { temperature: 1001 } }, 'flux.temperature'],
  [{ flux: { lot: 'F-1' } }, 'flux.lot'],
  [{ arcs: [{ arc: 7 }] }, 'arcs[0].arc'],
  [{ arcs: [{ arc: 1 }, { arc: 1 }] }, 'arcs[1].arc'],
  [{ fluxLot: 'a\nb' }, 'fluxLot'],
  [{ procedure: 'SA-13' }, 'procedure'],
  [{ at: 5 }, 'at'],
])('%j is refused with its field', async (body, field) => {
  const before = api.port.prepared.length;
  const put = await asker.ask('PUT', path, json(body));
  expect([put.status, put.body]).toMatchObject([400, { errors: [{ field }] }]);
  expect(api.port.prepared).toHaveLength(before);
});

test.each([['conflict', 409], ['storage', 503]] as const)('what the writer answers with %s is a %d', async (failed, status) => {
  api.port.failure = { failed, reason: 'no assignment is in force on hall-2/c1' };
  const put = await asker.ask('PUT', path, json({ surfaceCleaned: true }));
  api.port.failure = null;
  expect([put.status, put.body]).toMatchObject([status, { detail: 'no assignment is in force on hall-2/c1' }]);
});

test('a run that is recorded with what was missing is answered with it', async () => {
  const missing = [{ entry: 'electrodeExtension' as const, arc: 1, reason: 'outside' as const, value: 41, against: 'trade' as const, min: 24, max: 40 }];
  api.addRun({ id: 'r1', preparation: { missing } });
  expect((await asker.ask('GET', '/api/runs/r1')).body).toMatchObject({ preparation: { missing } });
});

test('a change of wire or flux is handed on, and answered with the assignment', async () => {
  const asked = { seam: 'S-9', run: 2, kind: 'spoolChanged', arc: 1, lot: 'W-9', mass: 15, by: 'Kim' };
  const post = await asker.ask('POST', '/api/carriages/hall-2/c1/materials', json(asked));
  expect([post.status, post.body]).toEqual([200, { seam: 'S-9', run: 2, materials: [{ kind: 'spoolChanged', arc: 1, lot: 'W-9', mass: 15, travelled: 1284.5, melted: null, by: 'Kim', at: '2026-11-25T07:01:00.000Z' }] }]);
  expect(api.port.materials.at(-1)).toEqual({ site: 'hall-2', carriage: 'c1', entered: { ...asked, travelled: null } });
  expect((await asker.ask('POST', '/api/carriages/hall-2/c1/materials', json({ ...asked, lot: 'a\nb' }))).status).toBe(400);
  expect((await asker.ask('POST', '/api/carriages/hall-2/c1/materials', json({ ...asked, kind: 'gasChanged' }))).status).toBe(400);
});

test('the name and the reason of a job change are passed on', async () => {
  await asker.ask('PUT', '/api/carriages/hall-2/c1/assignment', json({ seam: 'S-9', run: 3, by: 'Kim', reason: 'Typing error' }));
  expect(api.port.signed.at(-1)).toEqual({ by: 'Kim', reason: 'Typing error' });
  expect(api.port.assigned.at(-1)).toEqual({ site: 'hall-2', carriage: 'c1', assignment: { seam: 'S-9', run: 3 } });
  await asker.ask('DELETE', '/api/carriages/hall-2/c1/assignment?by=Kim');
  expect(api.port.signed.at(-1)).toEqual({ by: 'Kim', reason: null });
});

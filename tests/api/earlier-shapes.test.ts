import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { z } from 'zod';
import { runSchema } from '../../shared/api-types/run.js';
import { shapeNumber } from '../../shared/answers/run-shape.js';
import { openStreams } from '../ingest/open-streams.js';
import type { OpenStreams } from '../ingest/open-streams.js';
import { answersBefore, storeBefore } from '../records/store-before/open-store.js';
import { fakePort } from './fake-port.js';
import { serveApi } from './start-api.js';

/** What the program that wrote the store answered of a run with two arcs, a procedure with limits, and excursions; the arcs go out just as a row ends. */
const before = answersBefore().runs.find(({ run }) => run['carriage'] === '70-heat-input-of-two-arcs');
if (before === undefined) throw new Error('the store of an earlier program lacks its run with two arcs');
const id = String(before.run['id']);

let own: OpenStreams;
let api: Awaited<ReturnType<typeof serveApi>>;

beforeEach(async () => {
  own = openStreams(undefined, {}, storeBefore());
  api = await serveApi(join(own.folder, 'seamwarden.db'), { port: fakePort(own.db) });
});

afterEach(async () => {
  await api.close();
  own.close();
});

/** Changes what is stored of the run as an earlier program might have stored it. */
function store(column: 'record' | 'marks', change: string): void {
  own.db.prepare(`update runs set ${column} = ${change}, record_sum = null, row_sum = null where id = ?`).run(id);
}

async function ask(path = ''): Promise<{ readonly status: number; readonly body: Record<string, unknown> }> {
  const response = await fetch(`${api.url}/api/runs${path}`);
  return { status: response.status, body: (await response.json()) as Record<string, unknown> };
}

async function listed(): Promise<{ readonly run: unknown; readonly unreadable: unknown }> {
  const { items, unreadable } = (await ask('?limit=100')).body;
  return { run: (items as { readonly id: string }[]).find((run) => run.id === id), unreadable };
}

it.each([
  ['a figure of the run', "json_remove(record, '$.heatInput')"],
  ['figures of its arcs', "json_remove(record, '$.arcs[0].currentVariation', '$.arcs[1].voltage', '$.arcs[1].absent')"],
  ['figures that are made from zones and limits', "json_remove(record, '$.weldZone', '$.travelSpeed')"],
  ['what is known of its job', "json_remove(record, '$.assignment', '$.procedure', '$.attempt')"],
  ['a figure that was a text then', "json_set(record, '$.energy', 'much')"],
  ['a figure that is no more', "json_set(record, '$.slag', 1, '$.arcs[0].slag', 2)"],
])('a record that differs in %s is answered as if it had been stored so, in the list too', async (_, change) => {
  store('record', change);
  const { status, body } = await ask(`/${id}`);
  expect(status).toBe(200);
  expect(body).toMatchObject(before.run);
  expect(runSchema.parse(body)).toEqual(body);
  expect(await listed()).toEqual({ run: body, unreadable: undefined });
});

it('a figure that can no longer be worked out is null with its reason, and a missing value that cannot be null is reported as damage', async () => {
  own.db.exec('delete from trace_packed; delete from trace_recent; delete from trace_tail');
  store('record', "json_remove(record, '$.heatInput', '$.arcs[1].length')");
  const lost = 'it was not worked out when the run was recorded, and its rows can no longer be read';
  const { status, body } = await ask(`/${id}`);
  const arcs = body['arcs'] as readonly { readonly length: unknown; readonly absent: object }[];
  expect([status, body['heatInput'], body['absent'], arcs[1]?.length, arcs[1]?.absent]).toMatchObject([200, null, { heatInput: lost, litElsewhere: lost }, null, { length: lost }]);
  expect(body['energy']).toBe(before.run['energy']);
  store('record', "json_remove(record, '$.complete')");
  expect(await ask(`/${id}`)).toMatchObject({ status: 500, body: { detail: expect.stringContaining(`the record of run ${id} cannot be read (it lacks complete`) as string } });
  expect(await listed()).toEqual({ run: undefined, unreadable: 1 });
});

it('excursions and zones of an earlier shape are answered in today\'s shape, in every format', async () => {
  const wanted = await ask(`/${id}/excursions`);
  const asSheet = async (): Promise<string> => await (await fetch(`${api.url}/api/runs/${id}/excursions?format=csv`)).text();
  const sheet = await asSheet();
  expect((wanted.body['items'] as readonly unknown[]).length).toBeGreaterThan(0);
  store('marks', "json_remove(marks, '$.zones', '$.excursions[0].worst', '$.excursions[0].toSeamPosition')");
  expect(await ask(`/${id}/excursions`)).toEqual(wanted);
  expect(await asSheet()).toBe(sheet);
  const { body } = await ask(`/${id}/trace?points=5`);
  expect((body['zones'] as readonly object[]).length).toBeGreaterThan(1);
  const text = await (await fetch(`${api.url}/api/runs/${id}/trace?points=5&format=csv`)).text();
  expect(text.split('\n').length).toBeGreaterThan(5);
});

it('a shape has another number when a figure is added, removed, renamed or changes its kind, and the same when only its wording changes', () => {
  const shape = z.strictObject({ energy: z.number(), arcs: z.array(z.strictObject({ length: z.number().nullable() })) });
  const others = [
    shape.extend({ mass: z.number() }), shape.omit({ energy: true }), z.strictObject({ work: z.number(), arcs: shape.shape.arcs }), shape.extend({ energy: z.number().nullable() }),
    shape.extend({ energy: z.string() }), shape.extend({ arcs: z.array(z.strictObject({ length: z.number() })) }), shape.partial({ energy: true }),
  ];
  expect(new Set([shape, ...others].map(shapeNumber)).size).toBe(others.length + 1);
  expect(shapeNumber(shape.extend({ energy: z.number().meta({ description: 'kJ' }) }))).toBe(shapeNumber(shape));
});

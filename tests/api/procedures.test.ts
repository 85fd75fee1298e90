import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
let asker: Asker;

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
});

afterAll(async () => {
  await api.stop();
});

/** Every field that a procedure can have. */
const whole = {
  id: 'SA-12', title: '20 mm butt, two sides', process: '121', thermalEfficiency: 1, qualificationRecord: 'PQ-044', weldingPosition: 'PA',
  runGroups: [
    {
      name: 'first side', side: 1, runs: [1, 1],
      arcs: [
        {
          arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, wires: 1, offset: 0,
          current: { min: 580, max: 680 }, voltage: { min: 30, max: 34 }, wireFeedSpeed: { min: 1.1, max: 1.5 }, electrodeExtension: { min: 24, max: 40 },
          currentVariation: { max: 0.1 }, voltageVariation: { max: 0.08 },
        },
      ],
      travelSpeed: { min: 450, max: 560 }, heatInput: { min: 1.8, max: 3.1 }, t85: { min: 8, max: 40 }, preheat: { min: 15 }, interpassTemperature: { max: 250 },
      shapeFactors: { f2: 0.9, f3: 0.67 },
    },
  ],
  alarm: {
    smoothing: 1, onDelay: 1, offDelay: 3, deadband: 0.05, heatInputLength: 50, ignitionTime: 2, ignitionLength: 15, craterTime: 2,
    windows: { voltage: { priority: 'high', response: 'check the contact tube' } },
  },
};

test('a procedure is stored as revision 1, given back as it was, and not stored twice', async () => {
  const posted = await asker.ask('POST', '/api/procedures', json({ ...whole, by: 'A. Engineer' }));
  expect(posted.status).toBe(201);
  expect(posted.headers.get('location')).toBe('/api/procedures/SA-12?revision=1');
  expect(posted.body).toEqual({ ...whole, revision: 1, by: 'A. Engineer', createdAt: (posted.body as Procedure).createdAt });
  expect((await asker.ask('GET', '/api/procedures/SA-12')).body).toEqual(posted.body);
  expect((await asker.ask('POST', '/api/procedures', json(whole))).status).toBe(409);
});

test.each([['by', 'A.\u0000 Engineer'], ['by', 'half \ud800'], ['reason', 'what\u0000'], ['title', '\u0000']])('%s that could not be kept as it was given (%j) is refused by its name, and nothing is stored', async (field, text) => {
  const answer = await asker.ask('POST', '/api/procedures', json({ ...whole, id: 'SA-NUL', [field]: text }));
  expect(answer.status).toBe(400);
  expect(answer.body).toMatchObject({ errors: [{ field }] });
  expect((await asker.ask('GET', '/api/procedures/SA-NUL')).status).toBe(404);
});

test('material, joint, consumables, a reason and actions in a second language are kept with the revision they came with', async () => {
  const more = {
    id: 'SA-60', parentMaterial: 'S355J2+N', parentMaterialGroup: '1.2', thickness: { min: 10, max: 25 }, outsideDiameter: { min: 500 }, jointType: 'butt', jointPreparation: 'double V', backing: 'none',
    fluxClassification: 'ISO 14174 - S A AB 1', reason: 'first issue', runGroups: [{ runs: [1, 1], arcs: [{ arc: 1, wireClassification: 'ISO 14171-A - S2Mo' }] }],
    alarm: { windows: { voltage: { response: 'Check the contact tip.', responses: { zh: '检查导电嘴。' } } } },
  };
  const posted = await asker.ask('POST', '/api/procedures', json(more));
  expect(posted.status).toBe(201);
  expect(posted.body).toMatchObject(more);
  const { reason, ...content } = more;
  const second = await asker.ask('POST', '/api/procedures/SA-60/revisions', json(content));
  expect(second.body).not.toHaveProperty('reason');
  expect((await asker.ask('GET', '/api/procedures/SA-60?revision=1')).body).toMatchObject({ reason });
});

test('the runs of a procedure are counted by revision', async () => {
  expect((await asker.ask('GET', '/api/procedures/SA-60/usage')).body).toEqual({ runs: 0, revisions: [] });
  expect((await asker.ask('GET', '/api/procedures/SA-99/usage')).status).toBe(404);
});

test('a revision follows the one before, which stays as it was', async () => {
  const { id, ...content } = whole;
  const second = await asker.ask('POST', `/api/procedures/${id}/revisions`, json({ ...content, title: 'revised' }));
  expect([second.status, (second.body as Procedure).revision, (second.body as Procedure).by]).toEqual([201, 2, 'local']);
  expect((await asker.ask('GET', `/api/procedures/${id}`)).body).toMatchObject({ revision: 2, title: 'revised' });
  expect((await asker.ask('GET', `/api/procedures/${id}?revision=1`)).body).toMatchObject({ revision: 1, title: whole.title });
  expect((await asker.ask('GET', `/api/procedures/${id}?revision=3`)).status).toBe(404);
  expect((await asker.ask('GET', '/api/procedures/SA-99')).status).toBe(404);
  expect((await asker.ask('POST', '/api/procedures/SA-99/revisions', json(content))).status).toBe(404);
  expect((await asker.ask('POST', `/api/procedures/${id}/revisions`, json({ ...content, id: 'SA-13' }))).body).toMatchObject({ status: 400, errors: [{ field: 'id' }] });
  expect((await asker.ask('POST', `/api/procedures/${id}/revisions`, json({ ...content, id }))).status).toBe(201);
});

test('the list shows the newest revision of each, those revised last first', async () => {
  for (const id of ['B-1', 'B-2', 'B-3']) await asker.ask('POST', '/api/procedures', json({ id }));
  await asker.ask('POST', '/api/procedures/B-1/revisions', json({ title: 'again' }));
  const first = (await asker.ask('GET', '/api/procedures?limit=3')).body as { items: Procedure[]; next: string };
  const second = (await asker.ask('GET', `/api/procedures?limit=3&cursor=${first.next}`)).body as { items: Procedure[]; next: null };
  expect([...first.items, ...second.items].map((own) => [own.id, own.revision])).toEqual([['B-1', 2], ['B-3', 1], ['B-2', 1], ['SA-12', 3], ['SA-60', 2]]);
  expect(second.next).toBeNull();
});

test('what is wrong in a procedure is named at its field', async () => {
  const group = whole.runGroups[0];
  const arc = group?.arcs[0];
  const cases: readonly (readonly [string, object])[] = [
    ['id', { id: 'a/b' }],
    ['id', { id: '..' }],
    ['thermalEfficiency', { id: 'W', thermalEfficiency: 0 }],
    ['runGroups[0].runs', { id: 'W', runGroups: [{ runs: [3, 1] }] }],
    ['runGroups[0].runs', { id: 'W', runGroups: [{ runs: [1] }] }],
    ['runGroups[0].shapeFactors.f2', { id: 'W', runGroups: [{ ...group, shapeFactors: { f2: 0 } }] }],
    ['runGroups[0].shapeFactors.f3', { id: 'W', runGroups: [{ ...group, shapeFactors: { f3: -0.67 } }] }],
    ['runGroups[0].shapeFactors.F2', { id: 'W', runGroups: [{ ...group, shapeFactors: { F2: 0.9 } }] }],
    ['runGroups[0].side', { id: 'W', runGroups: [{ ...group, side: 3 }] }],
    ['runGroups[0].arcs', { id: 'W', runGroups: [{ ...group, arcs: [arc, arc] }] }],
    ['runGroups[0].arcs[0].current.min', { id: 'W', runGroups: [{ ...group, arcs: [{ ...arc, current: { min: 700, max: 600 } }] }] }],
    ['runGroups[0].travelSpeed', { id: 'W', runGroups: [{ ...group, travelSpeed: {} }] }],
    ['runGroups[0].heatInput.lowest', { id: 'W', runGroups: [{ ...group, heatInput: { lowest: 1, max: 2 } }] }],
    ['thickness.min', { id: 'W', thickness: { min: 5, max: 3 } }],
    ['reason', { id: 'W', reason: '' }],
    ['alarm.windows.voltage.responses.fr', { id: 'W', alarm: { windows: { voltage: { responses: { fr: 'x' } } } } }],
    ['alarm.deadband', { id: 'W', alarm: { deadband: -0.1 } }],
    ['alarm.windows.voltage.priority', { id: 'W', alarm: { windows: { voltage: { priority: 'urgent' } } } }],
    ['alarm.windows.volts', { id: 'W', alarm: { windows: { volts: {} } } }],
  ];
  for (const [field, body] of cases) {
    const answer = await asker.ask('POST', '/api/procedures', json(body));
    expect([answer.status, (answer.body as { errors: { field: string }[] }).errors.map((own) => own.field)], field).toEqual([400, [field]]);
  }
});

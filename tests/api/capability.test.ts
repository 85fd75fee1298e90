import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { recordSum } from '../../shared/records/record-sum.js';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { firstStart, madeRun } from './made-run.js';
import type { RunParts } from './made-run.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

/** NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. */
const nist = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

let api: Api;
let asker: Asker;

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
  const post = async (path: string, body: object): Promise<void> => { expect((await asker.ask('POST', path, json(body))).status).toBe(201); };
  await post('/api/procedures', { id: 'ONE', runGroups: [{ name: 'all', runs: [1, 9], arcs: [{ arc: 1, voltage: { min: 40, max: 60 } }], heatInput: { max: 2 } }] });
  await post('/api/procedures/ONE/revisions', { runGroups: [{ name: 'all', runs: [1, 9], arcs: [{ arc: 1, voltage: { min: 45, max: 57 } }], heatInput: { max: 2 } }] });
  await post('/api/procedures', { id: 'TWO', runGroups: [{ name: 'root', runs: [1, 1], arcs: [{ arc: 1 }, { arc: 2 }] }, { name: 'fill', runs: [2, 9], arcs: [{ arc: 1 }, { arc: 2 }] }] });
  await post('/api/procedures', { id: 'NONE' });
  for (const [at, value] of nist.entries()) add(`v${at}`, { minute: at, procedure: 'ONE', revision: at < 9 ? 1 : 2, voltage: value });
  // None of these belongs to the ten.
  add('repair', { minute: 2, procedure: 'ONE', revision: 1, voltage: 99, assignment: { purpose: 'repair' } });
  add('piece', { minute: 3, procedure: 'ONE', revision: 1, voltage: 99, assignment: { purpose: 'testPiece' } });
  add('tack', { minute: 3, procedure: 'ONE', revision: 1, voltage: 99, assignment: { purpose: 'tack' } });
  add('invented', { minute: 4, procedure: 'ONE', revision: 1, voltage: 50, simulated: true });
  add('welding', { minute: 5, procedure: 'ONE', revision: 1, voltage: 99, state: 'welding', endedAt: null });
  add('other', { minute: 5, procedure: 'ONE', revision: 1, voltage: 99, runGroup: null });
  add('short', { minute: 6, procedure: 'ONE', revision: 1, voltage: null });
  for (const [at, group] of ['root', 'fill', 'root', 'fill', 'fill'].entries()) add(`t${at}`, { minute: at, procedure: 'TWO', revision: 1, voltage: 30 + at, runGroup: group, second: 40 + at });
});

afterAll(async () => {
  await api.stop();
});

interface Parts extends Partial<RunParts> {
  readonly minute: number;
  readonly voltage: number | null;
  readonly second?: number;
  readonly revision: number;
}

/** A run of one minute that ends `minute` minutes after 08:01. */
function add(id: string, { minute, voltage, second, revision, procedure, assignment, ...more }: Omit<Parts, 'procedure' | 'assignment'> & { readonly procedure: string; readonly assignment?: object }): void {
  const started = firstStart + minute * 60e6;
  const arc = (number: number, value: number | null) => ({ arc: number, current: 600, voltage: value, wireFeedSpeed: null, absent: {} });
  const given = { seam: 'S', run: 1, procedure, ...assignment };
  const zone = { ...madeRun({ id }).weldZone, heatInput: 1.5 + minute / 100, travelSpeed: 500 + minute, arcs: [arc(1, voltage), ...(second === undefined ? [] : [arc(2, second)])] };
  api.addRun({ id, started, procedure: { id: procedure, revision }, runGroup: 'all', assignment: given, weldZone: zone, ...more });
}

async function asked(query: string): Promise<CapabilityAnswer> {
  const answer = await asker.ask('GET', `/api/capability?${query}`);
  expect(answer.status, answer.text).toBe(200);
  return answer.body as CapabilityAnswer;
}

const ids = ({ runs }: CapabilityAnswer): string[] => runs.map(({ id }) => id);

test('the NIST values, one run each, give its control limits and the indices between 45 and 57', async () => {
  const answer = await asked('procedure=ONE&quantity=voltage');
  expect(ids(answer)).toEqual(nist.map((_, at) => `v${at}`));
  expect(answer.runs[1]).toEqual({ id: 'v1', value: 47.6, endedAt: '2026-11-23T08:02:00.000Z' });
  expect(answer).toMatchObject({ procedure: 'ONE', quantity: 'voltage', arc: 1, runGroup: 'all', mean: 50.81, signals: [], few: true, absent: {} });
  // The limits of the last run, which was welded to revision 2.
  expect(answer.window).toEqual({ min: 45, max: 57 });
  const { limits, movingRange, cp, cpk, pp, ppk } = answer;
  expect([movingRange, limits?.lower, limits?.upper, cp, cpk, pp, ppk].map((value) => value?.toFixed(6))).toEqual(['1.877778', '45.815910', '55.804090', '1.201420', '1.163375', '0.983356', '0.952216']);
});

test('invented runs count only where that is asked for', async () => {
  expect(ids(await asked('procedure=ONE&quantity=voltage&simulated=true'))).toEqual(['v0', 'v1', 'v2', 'v3', 'invented', 'v4', 'v5', 'v6', 'v7', 'v8', 'v9']);
  expect(ids(await asked('procedure=ONE&quantity=voltage&simulated=false'))).not.toContain('invented');
});

test('a period begins with its first moment and ends before its last', async () => {
  // v2 ends at 08:03, v5 at 08:06.
  expect(ids(await asked('procedure=ONE&quantity=voltage&from=2026-11-23T08:03:00Z&to=2026-11-23T08:06:00Z'))).toEqual(['v2', 'v3', 'v4']);
  expect(ids(await asked('procedure=ONE&quantity=voltage&from=2026-11-23T08:03:00.001Z&to=2026-11-23T08:06:00.001Z'))).toEqual(['v3', 'v4', 'v5']);
  const none = await asked('procedure=ONE&quantity=voltage&from=2027-01-01T00:00:00Z');
  expect(none).toMatchObject({ window: null, runs: [], mean: null, limits: null, cpk: null, few: true, absent: { window: 'no run has a value', mean: 'fewer than two runs have a value' } });
  const one = await asked('procedure=ONE&quantity=voltage&to=2026-11-23T08:01:00.001Z');
  expect(one).toMatchObject({ mean: 49.6, limits: null, cp: null, window: { min: 40, max: 60 } });
});

test('heat input and travel speed are of the run, and have no arc', async () => {
  const heat = await asked('procedure=ONE&quantity=heatInput');
  // Those without a voltage have their heat input all the same; a window with one end gives the indices of that side.
  expect(ids(heat)).toContain('short');
  expect(heat).toMatchObject({ arc: null, window: { max: 2 }, cp: null, pp: null, absent: { cp: 'the procedure gives only one of the two limits' } });
  expect(heat.cpk).toBeGreaterThan(0);
  const speed = await asked('procedure=ONE&quantity=travelSpeed&runGroup=all');
  expect(speed.runs.find(({ id }) => id === 'v7')?.value).toBe(507);
  expect(speed).toMatchObject({ arc: null, window: null, cpk: null, absent: { window: 'the procedure gives no limits for it' } });
  expect(await asked('procedure=ONE&quantity=t85')).toMatchObject({ runs: [], mean: null });
  api.writer.prepare("UPDATE runs SET record = json_set(record, '$.t85', json('{\"value\": 11.5}')) WHERE id = 'v6'").run();
  expect((await asked('procedure=ONE&quantity=t85')).runs).toEqual([{ id: 'v6', value: 11.5, endedAt: '2026-11-23T08:07:00.000Z' }]);
  for (const quantity of ['heatInput', 'travelSpeed', 't85']) {
    const wrong = await asker.ask('GET', `/api/capability?procedure=ONE&quantity=${quantity}&arc=1`);
    expect([wrong.status, wrong.body]).toMatchObject([422, { errors: [{ field: 'arc', reason: `must be left out: ${quantity} is a quantity of the run` }] }]);
  }
});

test('run groups are never mixed, and what is not said where there are several is asked for', async () => {
  const asking = await asker.ask('GET', '/api/capability?procedure=TWO&quantity=voltage&arc=1');
  expect([asking.status, asking.body]).toMatchObject([422, { title: 'Unprocessable Entity', detail: 'runGroup: must be given: "root" or "fill"', errors: [{ field: 'runGroup' }] }]);
  const arc = await asker.ask('GET', '/api/capability?procedure=TWO&quantity=voltage&runGroup=fill');
  expect([arc.status, arc.body]).toMatchObject([422, { detail: 'arc: must be given: 1 or 2' }]);
  const unknown = await asker.ask('GET', '/api/capability?procedure=TWO&quantity=voltage&runGroup=cap&arc=1');
  expect([unknown.status, unknown.body]).toMatchObject([422, { detail: 'runGroup: must be "root" or "fill"; got "cap"' }]);
  expect((await asked('procedure=TWO&quantity=voltage&runGroup=root&arc=1')).runs.map(({ value }) => value)).toEqual([30, 32]);
  expect((await asked('procedure=TWO&quantity=voltage&runGroup=fill&arc=2')).runs.map(({ value }) => value)).toEqual([41, 43, 44]);
});

test('a run group that an earlier revision had is asked for by its name', async () => {
  await asker.ask('POST', '/api/procedures', json({ id: 'OLD', runGroups: [{ name: 'before', runs: [1, 9], arcs: [{ arc: 1, voltage: { max: 35 } }] }] }));
  await asker.ask('POST', '/api/procedures/OLD/revisions', json({ runGroups: [{ name: 'after', runs: [1, 9] }] }));
  add('old', { minute: 1, procedure: 'OLD', revision: 1, voltage: 31, runGroup: 'before' });
  expect((await asker.ask('GET', '/api/capability?procedure=OLD&quantity=voltage')).status).toBe(422);
  expect(await asked('procedure=OLD&quantity=voltage&runGroup=before')).toMatchObject({ runGroup: 'before', arc: 1, window: { max: 35 }, runs: [{ id: 'old' }] });
  expect(await asked('procedure=OLD&quantity=voltage&runGroup=before&from=2027-01-01T00:00:00Z')).toMatchObject({ runs: [] });
});

test('a procedure without run groups has its runs all the same', async () => {
  add('free', { minute: 1, procedure: 'NONE', revision: 1, voltage: 31, runGroup: null });
  expect(await asked('procedure=NONE&quantity=voltage')).toMatchObject({ runGroup: null, arc: 1, window: null, runs: [{ id: 'free', value: 31 }] });
  expect((await asker.ask('GET', '/api/capability?procedure=NONE&quantity=voltage&runGroup=x')).status).toBe(422);
});

test('what must be said, and what there is not', async () => {
  const status = async (query: string): Promise<number> => (await asker.ask('GET', `/api/capability${query}`)).status;
  expect(await Promise.all(['', '?procedure=ONE', '?quantity=voltage', '?procedure=ONE&quantity=colour', '?procedure=ONE&quantity=voltage&arc=7', '?procedure=ONE&quantity=voltage&from=yesterday'].map(status))).toEqual([400, 400, 400, 400, 400, 400]);
  expect(await status('?procedure=GONE&quantity=voltage')).toBe(404);
});

test('a damaged record is left out and counted, and a record that was changed is read again', async () => {
  const { record } = api.writer.prepare<[], { record: string }>("SELECT record FROM runs WHERE id = 'v3'").get() ?? { record: '' };
  const write = (text: string, sum: number | null): void => { api.writer.prepare("UPDATE runs SET record = ?, record_sum = ? WHERE id = 'v3'").run(text, sum); };
  write(record.replace('51.3', '51.9'), recordSum(record));
  const damaged = await asked('procedure=ONE&quantity=voltage');
  expect([ids(damaged).includes('v3'), damaged.runs.length, damaged.unreadable]).toEqual([false, 9, 1]);
  write(record.replace('51.3', '51.9'), null);
  expect((await asked('procedure=ONE&quantity=voltage')).runs[3]).toMatchObject({ id: 'v3', value: 51.9 });
  write(record, recordSum(record));
  expect((await asked('procedure=ONE&quantity=voltage')).runs[3]).toMatchObject({ id: 'v3', value: 51.3 });
});

test('values beyond a limit and eight in a row on one side are signals with their runs; more than one page of runs is read', async () => {
  await asker.ask('POST', '/api/procedures', json({ id: 'MANY', runGroups: [{ name: 'all', runs: [1, 9], arcs: [{ arc: 1 }] }] }));
  // 450 runs at 30 and 32 V in turn, then eight at 32: the mean lies between; the last is at 60.
  for (let at = 0; at < 458; at += 1) add(`m${String(at).padStart(3, '0')}`, { minute: at, procedure: 'MANY', revision: 1, voltage: at >= 450 || at % 2 === 1 ? 32 : 30 });
  add('m458', { minute: 458, procedure: 'MANY', revision: 1, voltage: 60 });
  const answer = await asked('procedure=MANY&quantity=voltage');
  expect([answer.runs.length, answer.few]).toEqual([459, false]);
  // From the 32 of m449 on, all are above the mean of some 31.1.
  const side = Array.from({ length: 10 }, (_, at) => `m${449 + at}`);
  expect(answer.signals).toEqual([{ rule: 'limit', runs: ['m458'] }, { rule: 'side', runs: side }]);
  const values = answer.runs.map(({ value }) => value);
  expect(answer.mean).toBeCloseTo(values.reduce((sum, value) => sum + value, 0) / 459, 9);
});

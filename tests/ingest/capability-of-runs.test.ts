import { afterEach, beforeEach, expect, it } from 'vitest';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { fakePort } from '../api/fake-port.js';
import { serveApi } from '../api/start-api.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 25);

let own: RecorderByHand;
beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

const call = async (name: 'addProcedure' | 'assignRun', ...args: readonly unknown[]): Promise<unknown> => await own.calls.answer({ type: 'call', id: 1, name, args } as Parameters<RecorderByHand['calls']['answer']>[0]);

/** One message of 100 samples at 1 ms: a sine of 50 Hz, of which a row of 100 ms holds five periods, so that the row has its RMS. */
function block(seq: number, rms: number): void {
  const wave = (value: number): number[] => Array.from({ length: 100 }, (_, k) => Math.SQRT2 * value * Math.sin((2 * Math.PI * 50 * k) / 1000));
  own.take('weld/hall/c1/readings', { boot: 'b1', seq, time: start + seq * 100, interval: 1, current: wave(rms), voltage: wave(rms === 0 ? 0 : 36), travelSpeed: 600 });
  own.clock.pass(100);
}

let seq = 0;
/** 10 s of alternating arc, `rms` in the weld zone of 6 s, 900 A in ignition and crater; then 4 s without an arc. */
function weld(assignment: object, rms: number): void {
  own.take('weld/hall/c1/assignment', { seam: 'S1', procedure: 'W-1', ...assignment });
  for (let k = 0; k < 140; k += 1) block((seq += 1), k >= 100 ? 0 : k < 20 || k >= 80 ? 900 : rms);
}

async function asked(query: string): Promise<{ readonly status: number; readonly body: CapabilityAnswer }> {
  const file = own.db.prepare<[], string>("SELECT file FROM pragma_database_list WHERE name = 'main'").pluck().get() ?? '';
  const api = await serveApi(file, { port: fakePort(own.db) });
  const response = await fetch(`${api.url}/api/capability?procedure=W-1&quantity=current${query}`);
  const body = (await response.json()) as CapabilityAnswer;
  await api.close();
  return { status: response.status, body };
}

it('runs that were welded give the RMS of their weld zones, each in the run group by which it was judged', async () => {
  seq = 0;
  const groups = [{ name: 'root', runs: [1, 1], arcs: [{ arc: 1, currentType: 'AC', current: { max: 700 } }] }, { name: 'fill', runs: [2, 9], arcs: [{ arc: 1, currentType: 'AC', current: { min: 450, max: 650 } }] }];
  expect(await call('addProcedure', 'W-1', JSON.stringify({ id: 'W-1', process: '121', runGroups: groups }), 'QA', true)).toMatchObject({ revision: 1 });
  weld({ run: 1 }, 620);
  weld({ run: 2, purpose: 'production' }, 500);
  weld({ run: 3 }, 560);
  weld({ run: 4, purpose: 'testPiece' }, 600);
  weld({ run: 5, purpose: 'repair' }, 600);
  weld({ run: 6, simulated: true }, 530);
  own.take('weld/hall/c1/assignment', '');
  own.clock.pass(5_000);
  const runs = own.records('runs') as readonly { readonly id: string; readonly run: number; readonly runGroup: string; readonly state: string }[];
  expect(runs.map(({ run, runGroup, state }) => [run, runGroup, state])).toEqual([[1, 'root', 'finished'], ...[2, 3, 4, 5, 6].map((run) => [run, 'fill', 'finished'])]);
  const values = ({ body }: { readonly body: CapabilityAnswer }): (number | undefined)[] => body.runs.map(({ value }) => Number(value.toFixed(6)));
  const fill = await asked('&runGroup=fill');
  expect([values(fill), fill.body.window, fill.body.mean, fill.body.movingRange]).toEqual([[500, 560], { min: 450, max: 650 }, 530, 60]);
  expect(values(await asked('&runGroup=root'))).toEqual([620]);
  expect(values(await asked('&runGroup=fill&simulated=true'))).toEqual([500, 560, 530]);
  expect((await asked('')).status).toBe(422);
  // Corrected to run 1, it is judged by the other group.
  expect(await call('assignRun', runs[2]?.id, { seam: 'S1', run: 1, procedure: 'W-1' }, { by: 'QA', reason: 'wrong number' })).toMatchObject({ ok: true });
  expect(values(await asked('&runGroup=fill'))).toEqual([500]);
  expect(values(await asked('&runGroup=root'))).toEqual([620, 560]);
});

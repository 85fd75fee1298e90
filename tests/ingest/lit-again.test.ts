import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkItems } from '../../services/account/check-items.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 25);
const plain = { seam: 'S1', run: 1 };
const byProcedure = { ...plain, procedure: 'W-1' };

let own: RecorderByHand;
beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

function assign(body: object | null): void {
  own.take('weld/hall/c1/assignment', body ?? '');
  own.clock.pass(10);
}

async function revise(revision: number, min: number, max: number): Promise<void> {
  const text = JSON.stringify({ id: 'W-1', process: '121', runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, voltage: { min, max } }] }] });
  expect(await own.calls.answer({ type: 'call', id: 1, name: 'addProcedure', args: ['W-1', text, 'QA', revision === 1] })).toMatchObject({ revision });
}

/** 10 s under the first assignment, and 3 s with the arc out, in which it ends. */
function weldFirst(body: object): void {
  assign(body);
  own.send(start, 0, 100);
  own.send(start, 100, 130, 0);
  assign(null);
}

/** 10 s more, and 7 s with the arc out. */
function weldOn(body: object): void {
  assign(body);
  own.send(start, 130, 230);
  own.send(start, 230, 300, 0);
  own.clock.pass(3_000);
}

/** The items in order give what is stored once the run has ended. */
function expectSound(): void {
  assign(null);
  own.clock.pass(3_000);
  expect(checkItems(own.db, { settings: defaultWeldSettings, decidedBefore: 0 }).problems).toEqual([]);
  expect(own.problems).toEqual([]);
}

/** Worked out by hand: the readings' 550 mm/min for 20 s, of which 2 s at both ends of both parts are ignition, restart and crater, and nothing is tab. */
const speed = 550 / 60;
const run = { ...plain, attempt: 1, length: expect.closeTo(20 * speed, 6) as number, lengths: { excluded: expect.closeTo(8 * speed, 6) as number, inside: expect.closeTo(12 * speed, 6) as number, outside: 0, notProven: 0 } };

// Rules, section 2: the same seam and run with other fields corrects the run; section 4: it lights the run again.
describe('a run lit again under an assignment with other fields', () => {
  it.each([false, true])('is judged by them from its beginning on (service killed before: %s)', (killed) => {
    weldFirst({ ...plain, runOn: 60, seamLength: 300 });
    if (killed) own.restart('killed');
    weldOn({ ...plain, operator: 'op-08' });
    expect(own.records('runs')).toMatchObject([{ ...run, assignment: { operator: 'op-08' } }]);
    expectSound();
  });

  it('keeps what was entered at the carriage before', () => {
    weldFirst({ ...plain, runOn: 60, preparation: { at: start, by: 'op-07', preheat: 120 } });
    weldOn(plain);
    expect(own.records('runs')).toMatchObject([{ ...run, assignment: { preparation: { by: 'op-07' } } }]);
    expectSound();
  });

  it('keeps the revision of its procedure, also where all of it is folded again after a start', async () => {
    // The readings' 30 V is outside of the first revision, once in each part, and inside of the second, by which nothing was welded.
    await revise(1, 32, 34);
    weldFirst({ ...byProcedure, runOn: 60, seamLength: 300 });
    await revise(2, 28, 32);
    weldOn(byProcedure);
    const judged = { ...run, lengths: { ...run.lengths, inside: 0, outside: run.lengths.inside }, procedure: { id: 'W-1', revision: 1 }, excursions: 2 };
    expect(own.records('runs')).toMatchObject([judged]);
    own.restart('killed');
    assign({ ...byProcedure, operator: 'op-08' });
    own.clock.pass(3_000);
    expect(own.records('runs')).toMatchObject([{ ...judged, assignment: { operator: 'op-08' } }]);
    expectSound();
  });

  it.each([false, true])('has its own fields again once late readings say that another run came between (service killed before: %s)', (killed) => {
    assign({ ...plain, operator: 'op-07', time: start });
    assign({ seam: null, time: start + 10_000 });
    assign({ ...plain, operator: 'op-08', runOn: 60, time: start + 13_000 });
    own.send(start, 0, 100);
    own.send(start, 140, 150, 0);
    own.clock.pass(3_000);
    expect(own.records('runs')).toMatchObject([{ assignment: { operator: 'op-08', runOn: 60 } }]);
    if (killed) own.restart('killed');
    // It burnt on, and nothing was assigned to that.
    own.send(start, 100, 120);
    own.send(start, 120, 140, 0);
    own.clock.pass(3_000);
    own.clock.pass(3_000);
    const [first, between, ...others] = own.records('runs');
    expect(first).toMatchObject({ assignment: { operator: 'op-07', time: '2026-11-25T00:00:00.000Z' } });
    expect(first).not.toHaveProperty('assignment.runOn');
    expect(between).toMatchObject({ assignment: null });
    expect(others).toEqual([]);
    expectSound();
  });
});

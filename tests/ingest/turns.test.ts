import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkItems } from '../../services/account/check-items.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 25);
/** 550 mm/min at 10 Hz: 0.916667 mm a reading. A turn of 60 mm × π is 188.495559 mm, so readings 206, 412, 617 and 823 are the first at or after 1, 2, 3 and 4 turns. */
const series = { seam: 'C-1', run: 1, motion: 'work', diameter: 60, turnIsRun: true };
const borders = [206, 412, 617, 823];

let own: RecorderByHand;
beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

function assign(body: object | null): void {
  own.take('weld/hall/c1/assignment', body ?? '');
  own.clock.pass(10);
}

interface Told {
  readonly run: number;
  readonly [field: string]: unknown;
}

const told = (): Told[] => own.published.filter(({ topic }) => topic === 'weld/hall/c1/assignment').map(({ payload }) => JSON.parse(payload) as Told);
const inForce = (): unknown => (JSON.parse(own.calls.carriages()[0] ?? '{}') as { readonly assignment?: unknown }).assignment;
const seconds = (at: number): string => new Date(start + at * 100).toISOString();

/** The runs with the reading at which each begins, and that at which the last one ends. */
function expectRuns(numbers: readonly number[], begin: readonly number[], more: readonly object[] = []): void {
  expect(own.records('runs')).toMatchObject(numbers.map((run, at) => ({ run, attempt: 1, startedAt: seconds(begin[at] ?? 0), ...more[at] })));
}

/** Ends the job; the items in order then give what is stored. */
function expectSound(): void {
  assign(null);
  own.clock.pass(3_000);
  expect(checkItems(own.db, { settings: defaultWeldSettings, decidedBefore: 0 }).problems).toEqual([]);
  expect(own.problems).toEqual([]);
}

describe('a series of turns through the recorder', () => {
  it('publishes the assignment to each run that a turn begins, and it is the one in force', () => {
    assign({ ...series, thickness: 40 });
    own.send(start, 0, 700);
    expect(told()).toEqual([2, 3, 4].map((run) => ({ ...series, thickness: 40, run })));
    expect(inForce()).toEqual({ ...series, thickness: 40, run: 4 });
    own.send(start, 700, 720, 0);
    expectSound();
    expectRuns([1, 2, 3, 4], [0, ...borders]);
  });

  it('goes on past the turn of the last run', () => {
    assign({ ...series, lastRun: 2 });
    own.send(start, 0, 700);
    own.send(start, 700, 720, 0);
    expect(told().map(({ run }) => run)).toEqual([2]);
    expectSound();
    expectRuns([1, 2], [0, 206], [{}, { endedAt: seconds(700) }]);
  });

  it.each([false, true])('begins no other series where a broker gives back what was published, or the carriage sends its job again (retained: %s)', (retained) => {
    const back = (payload: object): void => {
      own.recorder.take({ topic: 'weld/hall/c1/assignment', payload: Buffer.from(JSON.stringify(payload)), retained, acknowledge: () => undefined });
    };
    assign(series);
    own.send(start, 0, 500);
    for (const payload of [...told(), series]) back(payload);
    own.send(start, 500, 700);
    own.send(start, 700, 720, 0);
    // With its arc out a carriage may be sent to begin again, but what was retained says nothing.
    if (retained) back(series);
    expect(inForce()).toMatchObject({ run: 4 });
    expectSound();
    expectRuns([1, 2, 3, 4], [0, ...borders]);
  });

  it('is welded again from its first run where it is assigned again with the arc out', () => {
    assign(series);
    own.send(start, 0, 300);
    own.send(start, 300, 310, 0);
    assign(series);
    expect(inForce()).toMatchObject({ run: 1 });
    own.send(start, 310, 400);
    own.send(start, 400, 410, 0);
    expectSound();
    expect(own.records('runs')).toMatchObject([{ run: 1, attempt: 1 }, { run: 2, attempt: 1 }, { run: 1, attempt: 2 }]);
  });

  it.each([false, true])('a correction in a turn holds for its run and those after it, and not for those before (killed after it: %s)', (killed) => {
    assign(series);
    own.send(start, 0, 450);
    assign({ ...series, run: 3, operator: 'op-7' });
    own.send(start, 450, 460);
    if (killed) own.restart('killed');
    own.send(start, 460, 700);
    own.send(start, 700, 720, 0);
    expectSound();
    expectRuns([1, 2, 3, 4], [0, ...borders], [{ assignment: series }, { assignment: { ...series, run: 2 } }, { assignment: { run: 3, operator: 'op-7' } }, { assignment: { run: 4, operator: 'op-7' } }]);
    const [first, second] = own.records('runs') as { readonly assignment: object }[];
    expect([first?.assignment, second?.assignment]).toEqual([series, { ...series, run: 2 }]);
  });

  it('what is entered at the carriage in a turn belongs to the run of that turn', async () => {
    assign(series);
    own.send(start, 0, 300);
    const entered = { seam: 'C-1', run: 2, by: 'Kim', change: { surfaceCleaned: true } };
    expect(await own.calls.answer({ type: 'call', id: 1, name: 'enterPreparation', args: ['hall', 'c1', entered] })).toMatchObject({ assignment: { run: 2, preparation: { surfaceCleaned: true } } });
    own.send(start, 300, 450);
    own.send(start, 450, 470, 0);
    expectSound();
    expect((own.records('runs') as { readonly assignment: { readonly preparation?: object } }[]).map(({ assignment }) => assignment.preparation !== undefined)).toEqual([false, true, false]);
  });

  it('another job in a turn ends the series, and a turn says nothing of it', () => {
    assign(series);
    own.send(start, 0, 300);
    assign({ seam: 'L-9', run: 5 });
    own.send(start, 300, 700);
    own.send(start, 700, 720, 0);
    expectSound();
    expectRuns([1, 2, 5], [0, 206, 300]);
  });

  it.each(['stopped', 'killed'] as const)('goes on over a service that is %s in a turn, and tells the job in force again once items come', (how) => {
    assign(series);
    own.send(start, 0, 450);
    own.restart(how);
    expect(own.calls.assignmentsInForce()).toMatchObject([{ topic: 'weld/hall/c1/assignment', payload: JSON.stringify({ ...series, run: 3 }) }]);
    const before = told().length;
    own.clock.pass(2_000);
    expect(told()).toHaveLength(before);
    own.send(start, 450, 700);
    own.send(start, 700, 720, 0);
    expect(told().slice(before).map(({ run }) => run)).toEqual([3, 4]);
    expectSound();
    expectRuns([1, 2, 3, 4], [0, ...borders]);
  });

  it('is refused without work that turns, and where the last run is before the first', () => {
    for (const body of [{ ...series, motion: undefined }, { ...series, motion: 'carriage' }, { ...series, diameter: undefined }, { ...series, run: 4, lastRun: 3 }, { ...series, turnIsRun: false, lastRun: 3 }]) assign(body);
    const reasons = own.db.prepare<[], { reason: string }>('select reason from refused order by id').all().map(({ reason }) => reason);
    expect(reasons).toEqual([
      'turnIsRun: got true; expected: true only where motion is "work" and diameter is given; motion is missing',
      'turnIsRun: got true; expected: true only where motion is "work" and diameter is given; motion is "carriage"',
      expect.stringContaining('diameter: missing'),
      'lastRun: got 3; expected: at least 4, the number of the run',
      'lastRun: got 3; expected: a number only where turnIsRun is true',
    ]);
  });
});

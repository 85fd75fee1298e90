import { expect, it } from 'vitest';
import { expectAccounted } from './accounted.js';
import { commit, dropAll, finishAll, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';
import { readRun } from '../named-rows.js';

const start = Date.UTC(2026, 10, 2, 6);

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

/** Readings at 10 Hz; `on` while the arc burns (invented values). */
function send(from: number, to: number, on: boolean): void {
  commit(own, () => {
    for (let seq = from; seq < to; seq += 1) {
      own.take('weld/hall/c1/readings', JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 }));
    }
  });
}

function assign(payload: object | null): void {
  commit(own, () => { own.take('weld/hall/c1/assignment', payload === null ? '' : JSON.stringify(payload)); });
}

const rowsOf = (id: string): number => readRun(own.streams().fold.traces, id).length;

const lateOf = (id: string): number => own.db.prepare<[string], { count: number }>('select count(*) as count from late where run_id = ?').get(id)?.count ?? 0;

/** Lets enough time pass that every run is decided and everything deletable is deleted. */
function decide(): void {
  finishAll(own);
  own.now += 1_000e6;
  commit(own, () => { dropAll(own); });
  finishAll(own);
}

it('the last rows of a run that ended with its data stay once the run is decided and the carriage sends again', () => {
  assign({ seam: 'S1', run: 1 });
  send(0, 301, true);
  assign(null);
  finishAll(own);
  const [run] = storedRuns(own, 'c1');
  const rows = rowsOf(run?.id ?? '');
  // 30 s in rows of 0.1 s; the last reading applies for no time
  expect(rows).toBe(300);
  decide();
  expect(rowsOf(run?.id ?? '')).toBe(rows);
  send(20_000, 20_100, false);
  finishAll(own);
  expect(rowsOf(run?.id ?? '')).toBe(rows);
  killed(own);
  send(20_100, 20_200, false);
  finishAll(own);
  expect(rowsOf(run?.id ?? '')).toBe(rows);
});

it('items that arrive after their surroundings were deleted are on a list of late items, also outside every run, and every item is accounted for', () => {
  assign({ seam: 'S1', run: 1 });
  send(100, 140, false);
  send(140, 400, true);
  send(400, 440, false);
  assign(null);
  send(440, 700, false);
  assign({ seam: 'S2', run: 1 });
  send(760, 1_000, true);
  send(1_000, 1_040, false);
  assign(null);
  decide();
  send(1_040, 1_100, false);
  decide();
  const [first, second] = storedRuns(own, 'c1');
  const figures = (): unknown => storedRuns(own, 'c1').map(({ arcTime, energy, version }) => [arcTime, energy, version]);
  const before = figures();
  expect(own.streams().stream('hall', 'c1', '').fold.floor).not.toBe(null);
  // These items come before the first run, between the two, and at the beginning of the second under its assignment.
  send(0, 100, true);
  send(700, 760, true);
  finishAll(own);
  killed(own);
  finishAll(own);
  expect(figures()).toEqual(before);
  expect([first, second].map((run) => lateOf(run?.id ?? ''))).toEqual([100, 60]);
  expectAccounted(own.folder, { now: own.now });
});

it('a carriage without a decided run loses nothing: items from before a long idle time make its run when they arrive', () => {
  assign({ seam: 'S1', run: 1 });
  send(1_000, 1_400, false);
  decide();
  send(1_400, 1_800, false);
  decide();
  killed(own);
  // 40 s of welding that arrive after everything that followed them.
  send(500, 900, true);
  finishAll(own);
  expectAccounted(own.folder, { now: own.now });
  // 400 readings of 0.1 s; the last one applies for as long as a reading may, and the gap after it does not count
  const [run, ...more] = storedRuns(own, 'c1');
  expect(more).toEqual([]);
  expect(run).toMatchObject({ seam: 'S1', run: 1 });
  expect(run?.arcTime).toBeGreaterThan(39.8);
  expect(run?.arcTime).toBeLessThan(42);
});

it('items before an undecided run that is the first one are in the figures too', () => {
  send(1_000, 1_100, false);
  finishAll(own);
  own.now += 1_000e6;
  send(1_100, 1_200, false);
  own.now += 1_000e6;
  send(1_200, 1_300, true);
  commit(own, () => { dropAll(own); });
  send(1_300, 1_400, false);
  finishAll(own);
  send(900, 1_000, false);
  finishAll(own);
  expectAccounted(own.folder, { now: own.now });
});

it('after hours without any run, earlier items are refused with the reason, and every item that counts is accounted for', () => {
  for (let hour = 0; hour < 5; hour += 1) {
    send(1_000 + 200 * hour, 1_200 + 200 * hour, false);
    own.now += 3_600e6;
    finishAll(own);
  }
  commit(own, () => { dropAll(own); });
  expect(own.streams().stream('hall', 'c1', '').fold.floor).not.toBe(null);
  const { stored } = own.counts;
  send(900, 1_000, true);
  finishAll(own);
  expect(own.counts).toMatchObject({ stored, refused: 100 });
  const reason = own.db.prepare<[], { reason: string }>('select reason from refused order by id desc limit 1').get()?.reason;
  expect(reason).toMatch(/^seq: got 999; it belongs before everything that is kept of the carriage/);
  expectAccounted(own.folder, { now: own.now });
});

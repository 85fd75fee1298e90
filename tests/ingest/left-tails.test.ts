import { afterEach, beforeEach, expect, test } from 'vitest';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;
beforeEach(() => { own = openStreams(); });
afterEach(() => { own.close(); });

const reading = (seq: number, on: boolean): object => ({ boot: 'b', seq, time: Date.UTC(2026, 10, 25) + seq * 100, current: on ? 600 : 4, voltage: on ? 31 : 0, travelSpeed: 500 });
const take = (from: number, to: number, on: boolean): void => {
  own.take(`weld/${hall}/c1/readings`, JSON.stringify(Array.from({ length: to - from }, (_, at) => reading(from + at, on))));
};
/** How many rows are stored as provisional. */
const provisional = (): number => own.db.prepare<[], { count: number }>('select coalesce(sum(row_count), 0) as count from trace_tail').get()?.count ?? 0;

test('provisional rows found at a start are deleted when their run is found to be finished for good', () => {
  commit(own, () => { take(0, 300, true); take(300, 305, false); });
  finishAll(own);
  expect(provisional()).toBeGreaterThan(0);
  killed(own);
  // After 900 s without an arc the run is over (rule for a run without an assignment: 60 s), and after a further run it cannot change any more.
  commit(own, () => { take(10_000, 10_300, true); take(10_300, 10_320, false); });
  finishAll(own);
  expect(storedRuns(own, 'c1')).toHaveLength(2);
  const first = storedRuns(own, 'c1')[0]?.id ?? '';
  expect(own.db.prepare<[string], { count: number }>('select count(*) as count from trace_tail where run = ?').get(first)).toEqual({ count: 0 });
});

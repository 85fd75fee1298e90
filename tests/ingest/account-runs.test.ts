import { afterEach, beforeEach, expect, test } from 'vitest';
import { accountProblems } from './accounted.js';
import { commit, finishAll, hall, storedRuns } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;
beforeEach(() => { own = openStreams(); });
afterEach(() => { own.close(); });

const start = Date.UTC(2026, 10, 25);
const problems = (): string[] => accountProblems(own.folder, { now: own.now });

/** Two passes of 10 s at 10 Hz, the second under the next number. */
function weldTwice(): void {
  for (const run of [1, 2]) {
    const from = (run - 1) * 200;
    const readings = Array.from({ length: 120 }, (_, at) => {
      const on = at <= 100;
      return { boot: 'b', seq: from + at, time: start + (from + at) * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: 500 };
    });
    commit(own, () => {
      own.take(`weld/${hall}/c1/assignment`, JSON.stringify({ seam: 'S1', run, time: start + from * 100 - 1 }));
      own.take(`weld/${hall}/c1/readings`, JSON.stringify(readings));
    });
    own.now += 20e6;
  }
  finishAll(own);
}

const later = '; where the service was killed, its next start records it';

test('a run that the items make and the store lacks, or holds open, is reported', () => {
  weldTwice();
  const [first] = storedRuns(own, 'c1');
  expect(storedRuns(own, 'c1').map(({ run, state }) => [run, state])).toEqual([[1, 'finished'], [2, 'welding']]);
  expect(problems()).toEqual([]);
  const id = first?.id ?? '';
  own.db.prepare("update runs set finished = null, state = 'welding' where id = ?").run(id);
  expect(problems()).toEqual([`account: ${hall}/c1: run ${id} is stored as being welded, and the items in order end it${later}`]);
  own.db.prepare('delete from runs where id = ?').run(id);
  expect(problems()).toEqual([`account: ${hall}/c1: the items in order make a run from 2026-11-25T00:00:00.000Z on that is not stored${later}`]);
});

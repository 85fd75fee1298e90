import { afterEach, beforeEach, expect, it } from 'vitest';
import type { SqliteFile, SqliteStatement } from '../../shared/sqlite/sqlite-file.js';
import { atPath } from '../replay/check-figures.js';
import { watchedFile } from '../../shared/sqlite/watched-file.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 2, 12);

let own: RecorderByHand;
/** How many more writes succeed, and how many have failed since. */
let failAfter = Infinity;
let failed = 0;

/** Makes writes fail as on a full disk: SQLITE_FULL, 13 (sqlite.org/rescode.html). */
function failing(db: SqliteFile): SqliteFile {
  const watch = <Parameters extends unknown[], Row>(statement: SqliteStatement<Parameters, Row>): SqliteStatement<Parameters, Row> => ({
    ...statement,
    get: (...parameters) => statement.get(...parameters),
    all: (...parameters) => statement.all(...parameters),
    run: (...parameters) => {
      failed += Number(failAfter === 0);
      if (failAfter === 0) throw Object.assign(new Error('database or disk is full'), { code: 'ERR_SQLITE_ERROR', errcode: 13 });
      failAfter -= 1;
      return statement.run(...parameters);
    },
  });
  return watchedFile(db, watch);
}

beforeEach(() => {
  failAfter = Infinity;
  own = recorderByHand(failing);
});
afterEach(() => {
  failAfter = Infinity;
  own.close();
});

const send = (from: number, to: number, current?: number): void => { own.send(start, from, to, current); };
const alarms = (): unknown[] => own.records('alarms');
const runs = (): unknown[] => own.records('runs');

// `noData` is raised after 5 s without an item while an arc was on, by arrival (common practice, no source).
it('reports silence 5 s after the last item of a burning arc, and its end with the next one', () => {
  send(0, 30);
  own.clock.pass(4_850);
  expect(alarms()).toEqual([]);
  own.clock.pass(100);
  expect(alarms()).toMatchObject([{ quantity: 'noData', state: 'unacknowledged', returnedAt: null }]);
  send(80, 81);
  expect(alarms()).toMatchObject([{ quantity: 'noData', state: 'returned' }]);
});

it('ends shelving at its time, by itself', async () => {
  send(0, 30);
  own.clock.pass(6_000);
  const until = own.clock.now() + 60e6;
  await own.calls.answer({ type: 'call', id: 1, name: 'shelveAlarm', args: [String(atPath(alarms()[0], 'id')), 'op-07', 'known', until] });
  own.clock.pass(59_900);
  expect(alarms()).toMatchObject([{ state: 'shelved' }]);
  own.clock.pass(150);
  expect(alarms()).toMatchObject([{ state: 'unacknowledged', shelvedUntil: null }]);
});

it('ends a run when nothing has arrived for as long as the run waits for its arc', () => {
  send(0, 30);
  send(30, 35, 0);
  // A run without an assignment waits 60 s (shared/weld/weld-settings.ts).
  own.clock.pass(58_000);
  expect(runs()).toMatchObject([{ state: 'welding' }]);
  own.clock.pass(3_000);
  expect(runs()).toMatchObject([{ state: 'finished' }]);
});

it.each(['stopped', 'killed'] as const)('goes on with a run where it was %s, and counts each item once', (how) => {
  send(0, 40);
  own.restart(how);
  send(30, 70);
  send(70, 75, 0);
  own.clock.pass(2_000);
  expect(own.counted()).toMatchObject({ stored: 75, duplicate: 10, refused: 0 });
  // 70 readings of 0.1 s: the arc burns to the first zero.
  expect(runs()).toHaveLength(1);
  expect(atPath(runs()[0], 'arcTime')).toBeCloseTo(7, 9);
  expect(own.problems).toEqual([]);
});

it('acknowledges nothing of a commit in which any write fails, rebuilds memory and stores each item once', () => {
  // Slightly more than a second each time, so that records are written too.
  const each = 12;
  const writes = 40;
  for (let at = 0; at < writes; at += 1) {
    failAfter = at;
    failed = 0;
    send(at * each, (at + 1) * each);
    expect(failed, `write ${at}`).toBeGreaterThan(0);
    expect(own.acknowledged).toBeLessThan((at + 1) * each);
    expect(own.health).toMatchObject({ ok: false, reason: expect.stringContaining('database or disk is full') as string });
    failAfter = Infinity;
    own.clock.pass(1_100);
    expect([own.acknowledged, own.health?.ok]).toEqual([(at + 1) * each, true]);
  }
  send(writes * each, writes * each + 1, 0);
  own.clock.pass(2_000);
  expect(own.counted()).toMatchObject({ stored: writes * each + 1, duplicate: 0, refused: 0 });
  expect(runs()).toHaveLength(1);
  expect(atPath(runs()[0], 'arcTime')).toBeCloseTo((writes * each) / 10, 9);
});

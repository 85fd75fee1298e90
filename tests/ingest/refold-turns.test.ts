import { afterEach, beforeEach, expect, test } from 'vitest';
import { mayRefold } from '../../services/ingest/writer/refold-pace.js';
import { foldWaiting, refoldInTurn } from '../../services/ingest/writer/refold-turns.js';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;
beforeEach(() => { own = openStreams(); });
afterEach(() => { own.close(); });

const names = ['dear', 'cheap', 'other'];
const stream = (carriage: string): Carriage => own.streams().stream(hall, carriage, '');
const toFoldAgain = (): string[] => names.filter((name) => stream(name).fold.dirtyFrom !== null);
const due = (): boolean[] => names.map((name) => mayRefold(stream(name).fold, own.streams(), own.now / 1e3));
const take = (carriage: string, from: number, to: number): void => {
  const readings = Array.from({ length: to - from }, (_, at) => ({ boot: 'b', seq: from + at, time: Date.UTC(2026, 10, 25) + (from + at) * 100, current: 600, voltage: 31, travelSpeed: 500 }));
  own.take(`weld/${hall}/${carriage}/readings`, JSON.stringify(readings));
};

/** All three carriages have readings 30 s back to fold, and the share of the time is used up. */
function late(): void {
  commit(own, () => { for (const name of names) take(name, 0, 300); });
  commit(own, () => { for (const name of names) take(name, 340, 640); });
  own.streams().refolds.freeAt = Number.MAX_VALUE;
  commit(own, () => { for (const name of names) take(name, 300, 340); });
}

test('nobody is folded again while the share of the time is used up, and everybody is in the end', () => {
  late();
  expect([toFoldAgain(), due()]).toEqual([names, [false, false, false]]);
  own.streams().refolds.freeAt = 0;
  expect(due()).toEqual([true, true, true]);
  finishAll(own);
  // 640 readings 100 ms apart.
  expect(names.map((name) => storedRuns(own, name).map(({ arcTime }) => Math.round(arcTime)))).toEqual([[64], [64], [64]]);
});

test('the carriage that has waited longest in proportion to its cost comes first', () => {
  late();
  stream('dear').fold.refoldCost = 5_000;
  for (const name of ['cheap', 'other']) stream(name).fold.refoldCost = 2;
  stream('other').fold.refoldedAt = (stream('cheap').fold.refoldedAt ?? 0) + 1;
  own.now += 1_000_000;
  const order: string[] = [];
  while (toFoldAgain().length > 0) {
    own.streams().refolds.freeAt = 0;
    own.db.exec('begin immediate');
    for (const { carriage } of refoldInTurn(own.streams(), own.now / 1e3)) order.push(carriage);
    own.db.exec('commit');
  }
  expect(order).toEqual(['cheap', 'other', 'dear']);
});

test('after a start every carriage is folded, whatever it costs', () => {
  late();
  own.streams().refolds.freeAt = Number.MAX_VALUE;
  killed(own);
  expect(toFoldAgain()).toEqual([]);
});

test('before a stop everything that waits is folded again, except for what a failed commit or the time limit leaves', () => {
  late();
  const fold = (until: number, committed = true): void => {
    foldWaiting(own.streams(), until, () => {
      commit(own, () => undefined);
      return committed;
    });
  };
  fold(0);
  expect(toFoldAgain()).toEqual(names);
  fold(Infinity, false);
  const left = toFoldAgain().length;
  expect(left).toBeLessThan(names.length);
  fold(Infinity);
  expect(toFoldAgain()).toEqual([]);
});

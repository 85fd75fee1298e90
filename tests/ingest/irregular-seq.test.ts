import { afterEach, beforeEach, expect, test } from 'vitest';
import { runDueWork } from '../../services/ingest/writer/run-due-work.js';
import { expectAccounted } from './accounted.js';
import { killed } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;

beforeEach(() => {
  own = openStreams();
});

afterEach(() => {
  own.close();
  expect(own.problems).toEqual([]);
});

let device = 0;

/** Sends readings at 10 Hz in arrays of 1,000, each array in one commit. */
function send(boot: string, seqs: readonly number[]): void {
  for (let at = 0; at < seqs.length; at += 1_000) {
    const items = seqs.slice(at, at + 1_000).map((seq) => ({ boot, seq, time: own.now / 1e3 + (device += 1), current: 0, voltage: 0 }));
    own.now += 100e6;
    own.db.exec('begin');
    own.take('weld/hall/c1/readings', JSON.stringify(items));
    runDueWork(own.streams(), () => undefined);
    own.db.exec('commit');
  }
}

const standing = (): string[] => own.streams().stream('hall', 'c1', '').alarms.atHand.filter(({ returnedAt }) => returnedAt === null).map(({ quantity }) => quantity);

test('a time as seq raises an alarm, its cost does not grow with every item, and items that may have been stored are refused with the reason', () => {
  // Times in ms, some 100 ms apart with a jitter.
  const times = Array.from({ length: 100_000 }, (_, k) => 1_795_886_000_000 + 100 * k + ((k * 48_271) % 37));
  send('b1', times);
  expect(own.counts).toMatchObject({ stored: 100_000, duplicate: 0, refused: 0 });
  expect(standing()).toEqual(['sequence']);
  const { size, held } = own.db.prepare<[], { size: number; held: number }>('select max(length(marks)) as size, (select sum(length(steps)) from mark_pieces) as held from boots').get() ?? { size: -1, held: -1 };
  // Each commit writes at most 1,023 stretches of two or three characters; the 65,536 of all together are written once.
  expect(size).toBeLessThan(4_500);
  expect(held).toBeGreaterThan(90_000);
  expect(held).toBeLessThan(270_000);
  send('b1', times.slice(-100));
  expect(own.counts).toMatchObject({ stored: 100_000, duplicate: 100, refused: 0 });
  send('b1', times.slice(0, 100));
  expect(own.counts).toMatchObject({ stored: 100_000, duplicate: 100, refused: 100 });
  const refused = own.db.prepare<[], { reason: string }>('select reason from refused limit 1').get();
  expect(refused?.reason).toMatch(/^seq: got 1795886000000; expected at least \d+: this boot skips so many numbers/);
  own.restart();
  send('b1', times.slice(-100));
  expect(own.counts).toMatchObject({ stored: 100_000, duplicate: 200, refused: 100 });
  // The next boot counts.
  send('b2', Array.from({ length: 400 }, (_, k) => k));
  expect(standing()).toEqual([]);
});

/** Stores the marks as an earlier version wrote them: all in one text. */
function writeAsBefore(): void {
  const { id, marks } = own.db.prepare<[], { id: number; marks: string }>("select id, marks from boots where boot = 'b1'").get() ?? { id: 0, marks: '' };
  const pieces = own.db.prepare<[number], { steps: string }>('select steps from mark_pieces where boot_id = ? order by piece').all(id).map(({ steps }) => steps);
  expect(marks).toMatch(/@/);
  expect(pieces.length).toBeGreaterThan(5);
  own.db.prepare('update boots set marks = ?, row_sum = null where id = ?').run(marks.replace(/@[^:]*:/, `:${pieces.join(',')},`), id);
  own.db.exec('delete from mark_pieces');
}

test('over kills, and from marks of an earlier version, every number is known once', () => {
  const times = Array.from({ length: 6_000 }, (_, k) => 1_000 + 100 * k + ((k * 48_271) % 37));
  let stored = 0;
  let duplicate = 0;
  const expectCounts = (): void => { expect(own.counts).toMatchObject({ stored, duplicate, refused: 0 }); };
  for (let at = 0; at < times.length; at += 250) {
    // Each time, some earlier items come again, and a tenth of the new ones are left out and come later.
    const again = times.slice(Math.max(0, at - 700), at).filter((_, k) => (k + at / 250) % 10 === 3);
    send('b1', again);
    const news = times.slice(at, at + 250);
    send('b1', news);
    stored += news.length;
    duplicate += again.length;
    if ((at / 250) % 3 === 1) killed(own);
    if (at === 4_500) {
      writeAsBefore();
      killed(own);
    }
    expectCounts();
  }
  killed(own);
  send('b1', times.toReversed());
  duplicate += times.length;
  expectCounts();
  expectAccounted(own.folder, { now: own.now });
});

test('an ordinary carriage that loses one message in ten raises no alarm', () => {
  send('b1', Array.from({ length: 5_000 }, (_, k) => k).filter((k) => k % 10 !== 7));
  expect(standing()).toEqual([]);
});

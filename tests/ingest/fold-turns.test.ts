import { afterEach, beforeEach, expect, test } from 'vitest';
import { runDueWork } from '../../services/ingest/writer/run-due-work.js';
import { foldInTurn } from '../../services/ingest/writer/fold-turns.js';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;
beforeEach(() => { own = openStreams(); });
afterEach(() => { own.close(); });

const reading = (seq: number): object => ({ boot: 'b', seq, time: Date.UTC(2026, 10, 25) + seq * 100, current: 600 + (seq % 7), voltage: 31, travelSpeed: 500 });
const message = (from: number, count: number): string => JSON.stringify(Array.from({ length: count }, (_, at) => reading(from + at)));
const waiting = (carriage: string): number => own.streams().stream(hall, carriage, '').fold.fresh.length;

/** Makes one commit that only has time for the minimum. */
function hurried(work: () => void = () => undefined): void {
  own.db.exec('begin immediate');
  work();
  runDueWork(own.streams(), () => undefined, 0);
  own.db.exec('commit');
}

test('carriages that flood are folded in turn, and those that send little are folded completely in every commit', () => {
  hurried(() => {
    for (const carriage of ['f1', 'f2', 'f3']) own.take(`weld/${hall}/${carriage}/readings`, message(0, 200));
    own.take(`weld/${hall}/small/readings`, message(0, 3));
  });
  const left: number[][] = [['f1', 'f2', 'f3', 'small'].map(waiting)];
  for (let turn = 0; turn < 3; turn += 1) {
    hurried(() => { own.take(`weld/${hall}/small/readings`, message(3 + turn, 1)); });
    left.push(['f1', 'f2', 'f3', 'small'].map(waiting));
  }
  // Worked by hand: a part is 50 readings, and each commit folds one part of one carriage.
  expect(left).toEqual([[150, 200, 200, 0], [150, 150, 200, 0], [150, 150, 150, 0], [100, 150, 150, 0]]);
  expect([...own.streams().behind.keys()].sort()).toEqual(['f1', 'f2', 'f3'].map((name) => `weld/${hall}/${name}`));
  foldInTurn(own.streams(), Infinity);
  expect([['f1', 'f2', 'f3'].map(waiting), own.streams().behind.size]).toEqual([[0, 0, 0], 0]);
});

test('no mark and no record goes out before the accepted items are folded', () => {
  const told: string[] = [];
  own.db.exec('begin immediate');
  own.take(`weld/${hall}/f1/readings`, message(0, 200));
  for (let turn = 0; turn < 4; turn += 1) {
    own.now += 2_000_000;
    runDueWork(own.streams(), (topic) => { told.push(`${turn} ${topic}`); }, 0);
  }
  own.db.exec('commit');
  expect(told.filter((line) => line.endsWith('/stored'))).toEqual([`3 weld/${hall}/f1/stored`]);
});

test('figures are the same to the last bit, in parts, out of order and over a kill between the parts', () => {
  // Three minutes of weld, so that checkpoints are written on the way; the last message lies 4 s before the one sent before it.
  const parts = [message(0, 800), message(900, 900), message(860, 40), message(800, 60)];
  const arrive = (carriage: string, how: (work: () => void) => void): void => {
    for (const part of parts) how(() => { own.take(`weld/${hall}/${carriage}/readings`, part); });
  };
  arrive('whole', (work) => { commit(own, work); });
  arrive('parts', (work) => { hurried(work); hurried(); });
  arrive('killed', (work) => { hurried(work); killed(own); });
  finishAll(own);
  const figures = (carriage: string): object[] => storedRuns(own, carriage).map((record) => ({ ...record, id: '', carriage: '' }));
  expect(figures('whole')).toHaveLength(1);
  expect(figures('parts')).toEqual(figures('whole'));
  expect(figures('killed')).toEqual(figures('whole'));
});

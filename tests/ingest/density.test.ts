import { expect, it } from 'vitest';
import { commit, finishAll, storedDensities, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

const start = Date.UTC(2026, 10, 25);

/** Blocks of 100 ms at 1 ms from arc 1, and from 8 s on from arc 2 as well: 600.5 A and 30.5 V. */
function send(from: number, to: number): void {
  commit(own, () => {
    for (let seq = from; seq < to; seq += 1) {
      const block = (arc: number): object => ({ boot: 'b1', seq, time: start + seq * 100, arc, interval: 1, travelSpeed: 600, current: Array<number>(100).fill(600.5), voltage: Array<number>(100).fill(30.5) });
      own.take('weld/hall/c1/readings', JSON.stringify(seq < 80 ? block(1) : [block(1), block(2)]));
    }
  });
  own.now += (to - from) * 100_000;
}

const densities = (): unknown[] => storedRuns(own, 'c1').map(({ id }) => storedDensities(own, id));
/** Cells by hand: 30.5 V is in bin 30, 600.5 A in bin 60 of 10 A, for as long as the arc was on. */
const cell = (seconds: number): unknown => [[30, 60, expect.closeTo(seconds, 9)]];

it('an arc that a late assignment takes out of a run leaves no density there, also where the run was read again since it was written', () => {
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 1, time: start - 1_000 })); });
  for (let seq = 0; seq < 240; seq += 10) send(seq, seq + 10);
  expect(densities()).toEqual([{ 1: expect.anything() as unknown, 2: expect.anything() as unknown }]);
  // The run is read again only with the assignment itself.
  own.restart();
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S2', run: 1, time: start + 5_000 })); });
  for (let seq = 240; seq < 250; seq += 10) send(seq, seq + 10);
  finishAll(own);
  expect(densities()[0]).toEqual({ 1: cell(5) });
});

it('a run in which nothing comes any more has its whole density 2 s later, though it is not over', () => {
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 1, time: start - 1_000 })); });
  for (let seq = 0; seq < 60; seq += 10) send(seq, seq + 10);
  commit(own, () => undefined);
  expect(densities()).not.toEqual([{ 1: cell(6) }]);
  own.now += 2_000_000;
  commit(own, () => undefined);
  expect(storedRuns(own, 'c1').map(({ state }) => state)).toEqual(['welding']);
  expect(densities()).toEqual([{ 1: cell(6) }]);
});

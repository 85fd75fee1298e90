import { describe, expect, it } from 'vitest';
import { expectAccounted } from './accounted.js';
import { commit, finishAll, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

const start = Date.UTC(2026, 10, 2, 6);
/** The worked case of 60 s at 10 Hz: 601 readings with the arc on, then zeros; invented values. */
const reading = (seq: number): string => {
  const on = seq <= 600;
  return JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 });
};
const inOrder = Array.from({ length: 630 }, (_, seq) => seq);
const first = (...seqs: number[]): number[] => [...seqs, ...inOrder.filter((seq) => !seqs.includes(seq))];

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

function send(seqs: readonly number[], together: number, after: (at: number) => void = () => undefined): void {
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 1 })); });
  commit(own, () => { own.take('weld/hall/c1/readings', reading(seqs[0] ?? 0)); });
  for (let at = 1; at < seqs.length; at += together) {
    commit(own, () => { for (const seq of seqs.slice(at, at + together)) own.take('weld/hall/c1/readings', reading(seq)); });
    after(at);
  }
  commit(own, () => { own.take('weld/hall/c1/assignment', ''); });
  finishAll(own);
  expectAccounted(own.folder, { now: own.now });
}

function expectWhole(): void {
  const [run, ...more] = storedRuns(own, 'c1');
  expect(more).toEqual([]);
  expect(run).toMatchObject({ seam: 'S1', run: 1, state: 'finished' });
  // 600 intervals of 0.1 s and the last reading up to the first zero; 600 A · 30 V · 60.1 s; 550 mm/min · 60.1 s / 60
  expect(run?.arcTime).toBeCloseTo(60.1, 9);
  expect(run?.energy).toBeCloseTo(1081.8, 9);
  expect(run?.length).toBeCloseTo(550.916667, 5);
}

describe('a carriage whose first contact is not its first item', () => {
  it.each([
    ['newest first', [...inOrder].reverse(), 35],
    ['the halves swapped', [...inOrder.slice(315), ...inOrder.slice(0, 315)], 35],
    ['the last one first', first(629), 35],
    ['seq 608 first', first(608), 35],
    ['seq 599 first', first(599), 35],
    ['block by block backwards', Array.from({ length: 9 }, (_, at) => inOrder.slice(70 * (8 - at), 70 * (9 - at))).flat(), 70],
  ])('has the run of its items in order: %s', (_name, seqs, together) => {
    send(seqs, together);
    expectWhole();
  });

  it('holds when the process is killed between commits', () => {
    send([...inOrder].reverse(), 35, (at) => { if (at % 105 === 1) killed(own); });
    expectWhole();
  });

  it('holds when the oldest items arrive after checkpoints were written, and the process is killed before they are folded', () => {
    send([...inOrder.slice(50), ...inOrder.slice(0, 50)], 50, (at) => { if (at >= 550) killed(own); });
    expectWhole();
  });
});

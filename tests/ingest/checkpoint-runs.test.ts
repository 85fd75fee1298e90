import { expect, it } from 'vitest';
import { expectAccounted } from './accounted.js';
import { commit, finishAll, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

const start = Date.UTC(2026, 10, 2, 6);
/** 4 s of arc at 10 Hz without an assignment, then readings in the dark once a second until the run has just ended; invented values. */
const reading = (seq: number): string => {
  const on = seq < 40;
  return JSON.stringify({ boot: 'b1', seq, time: start + (seq < 80 ? seq * 100 : 8_000 + (seq - 80) * 1_000), current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: on ? 550 : 0 });
};
const seqs = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, at) => from + at);

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

function send(...list: number[]): void {
  commit(own, () => { for (const seq of list) own.take('weld/hall/c1/readings', reading(seq)); });
}

// Everything happens within one second, during which records are not otherwise written again.
it.each([
  ['the newest item came first', () => { send(138); send(...seqs(0, 138)); }],
  ['the carriage is new', () => { send(...seqs(0, 139)); }],
  ['the older half came last', () => { send(...seqs(75, 139)); send(...seqs(0, 75)); }],
  ['every other item came later', () => { send(...seqs(0, 139).filter((seq) => seq % 2 === 1)); send(...seqs(0, 139).filter((seq) => seq % 2 === 0)); }],
  ['the process had been killed before', () => { send(137, 138); killed(own); send(...seqs(0, 137)); }],
])('keeps a run whose arc is out when a checkpoint is written behind it, where %s and the process is killed then', (_name, sendAll) => {
  sendAll();
  killed(own);
  finishAll(own);
  const [run, ...more] = storedRuns(own, 'c1');
  expect(more).toEqual([]);
  // 39 intervals of 0.1 s, and the last reading up to the first zero: 4 s; 600 A · 30 V · 4 s
  expect(run?.arcTime).toBeCloseTo(4, 9);
  expect(run?.energy).toBeCloseTo(72, 9);
  expectAccounted(own.folder, { now: own.now });
});

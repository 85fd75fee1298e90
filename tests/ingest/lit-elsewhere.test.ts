import { beforeEach, describe, expect, it } from 'vitest';
import { commit, finishAll, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

// Invented: 600 A, 30 V at 10 mm/s over 500 mm, back at 50 mm/s with the arc out, and 200 mm from zero again; one reading every 100 ms.
const start = Date.UTC(2026, 10, 2, 6);
const text = (seconds: number): string => new Date(start + seconds * 1000).toISOString();
const at = (seq: number): { readonly on: boolean; readonly speed: number; readonly travel: number } => {
  if (seq < 500) return { on: true, speed: 600, travel: seq };
  if (seq < 600) return { on: false, speed: -3000, travel: 500 - 5 * (seq - 500) };
  if (seq < 800) return { on: true, speed: 600, travel: seq - 600 };
  return { on: false, speed: 0, travel: 200 };
};
const reading = (seq: number): string => {
  const { on, speed, travel } = at(seq);
  return JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: speed, travel });
};
const range = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, k) => from + k);

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });
beforeEach(() => {
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 1, startOffset: 1000 })); });
});

function send(seqs: readonly number[], together = 20, after: () => void = () => undefined): void {
  for (let k = 0; k < seqs.length; k += together) {
    commit(own, () => { for (const seq of seqs.slice(k, k + together)) own.take('weld/hall/c1/readings', reading(seq)); });
    after();
  }
}

function carriage(): Record<string, unknown> {
  finishAll(own);
  return JSON.parse(own.streams().stream('hall', 'c1', '').outbox.snapshot ?? '{}') as Record<string, unknown>;
}

const attempts = [
  { seam: 'S1', run: 1, attempt: 1, litElsewhere: false, length: 500, energy: 900, startedAt: text(0), endedAt: text(50), flags: [], restarts: [] },
  { seam: 'S1', run: 1, attempt: 2, litElsewhere: true, length: 200, energy: 360, startedAt: text(60), endedAt: text(80), flags: ['litElsewhere'], restarts: [] },
];

describe('an arc that is lit far from where it went out', () => {
  it('begins the next attempt, and the carriage says so as long as it is welded', () => {
    send(range(0, 505));
    expect(carriage()).toMatchObject({ litElsewhere: false, runStartedAt: text(0), arcOutSince: text(50) });
    send(range(505, 640));
    const [first, second] = storedRuns(own, 'c1');
    expect(carriage()).toMatchObject({ run: second?.id, lastRun: second?.id, litElsewhere: true, runStartedAt: text(60), arcOutSince: null });
    expect([first, second]).toMatchObject([{ ...attempts[0], state: 'finished' }, { attempt: 2, state: 'welding', litElsewhere: true }]);
    // 4.0 s at 10 mm/s, from the start offset of the assignment
    expect(carriage()['seamPosition']).toBeCloseTo(1039, 6);
    send(range(640, 820));
    commit(own, () => { own.take('weld/hall/c1/assignment', ''); });
    expect(carriage()).toMatchObject({ run: null, lastRun: second?.id, litElsewhere: false, runStartedAt: null, arcOutSince: null });
    expect(storedRuns(own, 'c1')).toMatchObject(attempts);
    expect(own.db.prepare("select count(*) as count from alarms where facts like '%overlap%'").get()).toEqual({ count: 0 });
  });

  it.each([
    ['the halves swapped', [...range(410, 820), ...range(0, 410)], false],
    ['newest first', range(0, 820).reverse(), false],
    ['the end of the first attempt after all else', [...range(0, 480), ...range(560, 820), ...range(480, 560)], false],
    ['the zero after all else, with kills', [...range(0, 598), ...range(640, 820), ...range(598, 640)], true],
  ])('does so however its items come: %s', (_name, seqs, kills) => {
    send(seqs, 30, () => { if (kills) killed(own); });
    commit(own, () => { own.take('weld/hall/c1/assignment', ''); });
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject(attempts);
  });

  it('is moved to the next run as a whole by an assignment from its start on, with its id; the attempt before stays as it was', () => {
    send(range(0, 650));
    const { runStartedAt, run } = carriage();
    const [first] = storedRuns(own, 'c1');
    commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S1', run: 2, startOffset: 1000, time: runStartedAt })); });
    expect(carriage()).toMatchObject({ run, litElsewhere: false, runStartedAt, assignment: { run: 2 } });
    send(range(650, 820));
    commit(own, () => { own.take('weld/hall/c1/assignment', ''); });
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([
      { ...attempts[0], id: first?.id, version: first?.version },
      { ...attempts[1], id: run, run: 2, attempt: 1, litElsewhere: false, flags: [] },
    ]);
  });

  it('lists an item that comes too late with the attempt that it belongs to', () => {
    send(range(0, 820).filter((seq) => seq !== 300 && seq !== 605));
    commit(own, () => { own.take('weld/hall/c1/assignment', ''); });
    finishAll(own);
    // The items come in time: everything is folded again, with the end of the assignment known.
    send([300]);
    finishAll(own);
    own.now += 901e6;
    send([605]);
    finishAll(own);
    const [first, second] = storedRuns(own, 'c1');
    expect([first, second]).toMatchObject([{ ...attempts[0], complete: true }, { complete: false }]);
    expect(own.db.prepare('select run_id, seq from late').all()).toEqual([{ run_id: second?.id, seq: 605 }]);
  });
});

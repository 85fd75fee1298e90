import { expect, it } from 'vitest';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import { accountProblems, expectAccounted } from './accounted.js';
import { openStreams, type OpenStreams } from './open-streams.js';
import { readArc } from '../named-rows.js';

const start = Date.UTC(2026, 10, 2, 12);

/** Five minutes of welding at 1 Hz, with one reading per message and commit, so that messages are not packed and checkpoints lie between them. */
function weld(own: OpenStreams, carriage: string): void {
  commit(own, () => { own.take(`weld/${hall}/${carriage}/assignment`, JSON.stringify({ seam: `S-${carriage}`, run: 1 })); });
  for (let seq = 0; seq < 300; seq += 1) {
    const on = seq < 290;
    commit(own, () => { own.take(`weld/${hall}/${carriage}/readings`, JSON.stringify({ boot: 'b1', seq, time: start + seq * 1_000, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed: 550 })); });
  }
  finishAll(own);
}

function flipLast(own: OpenStreams, table: string, column: string, where: string): void {
  const row = own.db.prepare<[], { id: number; bytes: Uint8Array }>(`select rowid as id, ${column} as bytes from ${table} where ${where} order by rowid desc limit 1`).get();
  if (row === undefined) throw new Error(`${table} has no row`);
  const bytes = Buffer.from(row.bytes);
  const middle = bytes.length >> 1;
  bytes.writeUInt8(bytes.readUInt8(middle) ^ 4, middle);
  own.db.prepare<[Uint8Array, number]>(`update ${table} set ${column} = ? where rowid = ?`).run(bytes, row.id);
}

it('drops a checkpoint that differs from what was written, and folds its items again', () => {
  const own = openStreams();
  try {
    weld(own, 'c1');
    const before = storedRuns(own, 'c1');
    expect(before).toHaveLength(1);
    const stream = [...own.streams().all.values()][0];
    if (stream === undefined) throw new Error('no stream');
    const checkpoints = stream.fold.checkpoints.length;
    expect(checkpoints).toBeGreaterThan(2);
    flipLast(own, 'checkpoints', 'state', 'true');
    killed(own);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toEqual(before);
    expectAccounted(own.folder, { now: own.now });
    expect(own.db.prepare<[], { state: Uint8Array }>('select state from checkpoints').all()).toHaveLength(checkpoints);
  } finally {
    own.close();
  }
});

it('computes nothing from a single message with a flipped bit, and names its carriage', () => {
  const own = openStreams();
  try {
    weld(own, 'c1');
    // Makes everything be folded again from the kept items.
    own.db.exec('delete from checkpoints');
    flipLast(own, 'kept', 'payload', 'id = 40');
    killed(own);
    expect([...own.streams().all.values()].map(({ fold }) => fold.fault)).toEqual([expect.stringMatching(/what is kept of hall\/c1 cannot be read .* the store is damaged/)]);
  } finally {
    own.close();
  }
});

it('does not answer with the newest rows of a trace when a bit of them is flipped', () => {
  const own = openStreams();
  try {
    weld(own, 'c1');
    commit(own, () => { own.take(`weld/${hall}/c2/readings`, JSON.stringify(Array.from({ length: 50 }, (_, seq) => ({ boot: 'b1', seq, time: start + seq * 100, current: 600, voltage: 30, travelSpeed: 550 })))); });
    finishAll(own);
    const [run] = storedRuns(own, 'c2');
    if (run === undefined) throw new Error('no run');
    for (const table of ['trace_recent', 'trace_tail']) {
      if (own.db.prepare(`select 1 from ${table} where run = ?`).get(run.id) === undefined) continue;
      flipLast(own, table, 'body', `run = '${run.id}' and arc = 1`);
      expect(() => readArc(own.streams().fold.traces, run.id, 1)).toThrow(/the trace of run .* cannot be read .* the store is damaged/);
    }
  } finally {
    own.close();
  }
});

it.each([
  ['a message that is kept', 'delete from checkpoints; delete from kept where id = 40'],
  ['the message behind the newest checkpoint', 'delete from kept where id = (select max(id) from kept)'],
  ['a late item', 'delete from late'],
])('leaves the figures alone where %s is no longer there, though all that is there is as it was written', (_what, sql) => {
  const own = openStreams();
  try {
    weld(own, 'c1');
    // The run ends and is decided, so that later items are listed with it and kept nowhere else.
    own.now += 1_000e6;
    finishAll(own);
    own.now += 1_000e6;
    commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify({ boot: 'b1', seq: 150, arc: 2, time: start + 150_000, current: 600, voltage: 30, travelSpeed: 550 })); });
    finishAll(own);
    expect(own.db.prepare<[], { count: number }>('select count(*) as count from late').get()).toEqual({ count: 1 });
    const before = storedRuns(own, 'c1');
    own.db.exec(sql);
    killed(own);
    expect([...own.streams().all.values()].map(({ fold }) => fold.fault)).toEqual([expect.stringMatching(/what is kept of hall\/c1 cannot be read \(301 items counted, and 300 are there\): the store is damaged/)]);
    expect(storedRuns(own, 'c1')).toEqual(before);
  } finally {
    own.close();
  }
});

it('does not answer with the trace of a finished run of which a minute is missing, after a late item and a start either', () => {
  const own = openStreams();
  try {
    weld(own, 'c1');
    commit(own, () => { own.take(`weld/${hall}/c1/assignment`, ''); });
    finishAll(own);
    const [run] = storedRuns(own, 'c1');
    if (run === undefined) throw new Error('no run');
    const sealed = (): unknown => own.db.prepare<[string]>('select count(*) as count from trace_seals where run = ?').get(run.id);
    expect([run.state, sealed()]).toEqual(['finished', { count: 1 }]);
    // The run is not decided yet: it is folded again, and its rows change.
    commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify({ boot: 'b1', seq: 150, arc: 2, time: start + 150_000, current: 600, voltage: 30, travelSpeed: 550 })); });
    finishAll(own);
    expect([storedRuns(own, 'c1')[0]?.version, sealed()]).toEqual([2, { count: 1 }]);
    killed(own);
    finishAll(own);
    expect(sealed()).toEqual({ count: 1 });
    expectAccounted(own.folder, { now: own.now });
    own.db.exec('delete from trace_packed where id = (select min(id) from trace_packed)');
    killed(own);
    expect([...own.streams().all.values()].map(({ fold }) => fold.fault)).toEqual([expect.stringMatching(/the trace of run .* made of other parts/)]);
    expect(() => readArc(own.streams().fold.traces, run.id, 1)).toThrow(/the trace of run .* made of other parts than were written.*store is damaged/);
    expect(accountProblems(own.folder, { now: own.now })).toEqual([expect.stringMatching(new RegExp(`the trace of run ${run.id} cannot be read`))]);
  } finally {
    own.close();
  }
});

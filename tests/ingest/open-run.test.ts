import { Kysely, SqliteDialect } from 'kysely';
import { beforeEach, expect, it } from 'vitest';
import { allExcursions, newestExcursions, type StoredExcursion } from '../../shared/records/excursions.js';
import { kyselyDatabase } from '../../shared/records/kysely-database.js';
import { findRun, type StoredRun } from '../../shared/records/runs.js';
import type { Database } from '../../shared/records/tables.js';
import { expectAccounted } from './accounted.js';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';
import { readRun } from '../named-rows.js';

// Invented: 600 A and 600 mm/min, one reading a second; 34 V for two of every five seconds, from the tenth on. Judged without delays.
const start = Date.UTC(2026, 10, 2, 6);
const seconds = 810;
const first = 10;
const every = 5;
const voltageAt = (second: number): number => (second >= first && (second - first) % every < 2 ? 34 : 30);
const procedure = { id: 'P', runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, voltage: { min: 28, max: 32 } }] }], alarm: { smoothing: 0, onDelay: 0, offDelay: 0 } };
const begins = Array.from({ length: (seconds - first) / every }, (_, at) => new Date(start + (first + every * at) * 1000).toISOString());

let own: OpenStreams;
let written: number;
useOpenStreams((opened) => { own = opened; });
beforeEach(() => {
  own.db.prepare('insert into procedures (id, revision, created, "by", body) values (?, 1, 0, \'qa\', ?)').run('P', JSON.stringify(procedure));
  own.db.exec('create temp table writes (piece integer)');
  own.db.exec('create temp trigger written after update on excursion_pieces begin insert into writes values (new.piece); end');
  commit(own, () => { own.take('weld/hall/c1/assignment', JSON.stringify({ seam: 'S', run: 1, procedure: 'P' })); });
  written = 0;
});

function send(from: number, to: number): void {
  for (let at = from; at < to; at += 10) {
    commit(own, () => {
      for (let seq = at; seq < Math.min(at + 10, to); seq += 1) own.take('weld/hall/c1/readings', JSON.stringify({ boot: 'b', seq, time: start + seq * 1000, current: 600, voltage: voltageAt(seq), travelSpeed: 600 }));
    });
    finishAll(own);
    written += 1;
  }
}

const records = (): Kysely<Database> => new Kysely<Database>({ dialect: new SqliteDialect({ database: kyselyDatabase(own.db) }) });

async function onlyRun(): Promise<StoredRun> {
  const [run, ...more] = storedRuns(own, 'c1');
  expect(more).toEqual([]);
  const found = await findRun(records(), run?.id ?? '');
  if (found === undefined) throw new Error('there is no run');
  return found;
}

async function inPages(run: StoredRun, limit: number): Promise<StoredExcursion[]> {
  const all: StoredExcursion[] = [];
  for (let from: number | null = 0; from !== null; ) {
    const page = await newestExcursions(records(), run, from, limit);
    all.push(...page.items.map((text) => JSON.parse(text) as StoredExcursion));
    from = page.next;
  }
  return all.reverse();
}

it('stores of a long list of excursions what has changed, and gives all of them page by page, also after a kill and from a store of before', async () => {
  send(0, seconds);
  const run = await onlyRun();
  const all = await allExcursions(records(), run);
  expect(all.map(({ fromTime }) => fromTime)).toEqual(begins);
  expect(new Set(all.map(({ id }) => id)).size).toBe(begins.length);
  expect(all.every(({ worst, quantity }) => worst === 34 && quantity === 'voltage')).toBe(true);
  for (const limit of [1, 7, 64, 100, 1_000]) expect(await inPages(run, limit)).toEqual(all);
  // 160 excursions are stored in three pieces. Each time the records are written, one piece changes, or two if one is full.
  const updates = own.db.prepare<[], { count: number }>('select count(*) as count from writes').get()?.count ?? 0;
  expect(updates).toBeLessThanOrEqual(written + 3);
  killed(own);
  finishAll(own);
  expect(await allExcursions(records(), await onlyRun())).toEqual(all);

  // An earlier version stored the excursions among the marks.
  own.db.prepare("update runs set marks = json_set(marks, '$.excursions', json(?)), row_sum = null where id = ?").run(JSON.stringify(all), run.id);
  own.db.exec('delete from excursion_pieces');
  const before = await onlyRun();
  expect(await allExcursions(records(), before)).toEqual(all);
  for (const limit of [1, 7, 64, 100, 1_000]) expect(await inPages(before, limit)).toEqual(all);
  killed(own);
  finishAll(own);
  const after = await onlyRun();
  expect(await allExcursions(records(), after)).toEqual(all);
  expect(after.marks).not.toContain('excursions');
  expectAccounted(own.folder, { now: own.now });
});

const rowsOf = (id: string): unknown[] => readRun(own.streams().fold.traces, id);

it('folds a run again from near its end if its arc is lit again after the run had counted as over, before and after another start', () => {
  const dark = (from: number, to: number): void => { commit(own, () => { for (let seq = from; seq < to; seq += 1) own.take('weld/hall/c1/readings', JSON.stringify({ boot: 'b', seq, time: start + seq * 1000, current: 0, voltage: 0, travelSpeed: 0 })); }); };
  const { id } = own.streams().stream(hall, 'c1', '');
  const count = (): number => own.db.prepare<[number], { count: number }>('select count(*) as count from checkpoints where stream_id = ?').get(id)?.count ?? 0;
  const states: string[] = [];
  for (const [at, from] of [0, 500, 1_000].entries()) {
    send(from, from + 200);
    dark(from + 200, from + 240);
    // Nothing comes for longer than a run may wait for its arc.
    own.now += 1_000e6;
    finishAll(own);
    states.push(storedRuns(own, 'c1')[0]?.state ?? '');
    if (at === 1) killed(own);
    const before = count();
    expect(before).toBeGreaterThan(10);
    send(from + 300, from + 310);
    expect(count()).toBeGreaterThan(before - 6);
  }
  expect(states).toEqual(['finished', 'finished', 'finished']);
  const [run] = storedRuns(own, 'c1');
  const rows = rowsOf(run?.id ?? '');
  // The figures are computed from the items alone, in order.
  own.db.prepare('delete from checkpoints where stream_id = ?').run(id);
  killed(own);
  finishAll(own);
  expect(storedRuns(own, 'c1')).toEqual([run]);
  expect(rowsOf(run?.id ?? '')).toEqual(rows);
  // By hand: three times 200 s, plus the last reading of each ten, which applies for a second, until the next or at most that long.
  expect(run?.arcTime).toBeCloseTo(629, 6);
  expectAccounted(own.folder, { now: own.now });
});

it('keeps few checkpoints of a run that goes on, and folds it again from any of them', () => {
  send(0, seconds);
  const run = storedRuns(own, 'c1');
  const { id } = own.streams().stream(hall, 'c1', '');
  const ids = own.db.prepare<[number], { id: number }>('select id from checkpoints where stream_id = ? order by id').all(id).map((row) => row.id);
  // One every 10 s makes 80; the newest eleven stay, and of the others at most two for each doubling of the distance.
  expect(ids.length).toBeGreaterThan(11);
  expect(ids.length).toBeLessThanOrEqual(11 + 2 * Math.ceil(Math.log2(80)));
  for (const dropped of ids.toReversed()) {
    own.db.prepare('delete from checkpoints where id = ?').run(dropped);
    killed(own);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toEqual(run);
  }
  expectAccounted(own.folder, { now: own.now });
});

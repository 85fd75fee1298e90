import { afterEach, beforeEach, expect, it } from 'vitest';
import { commitPipeline } from '../../services/ingest/writer/commit-pipeline.js';
import { openStore } from '../../services/ingest/store/open-store.js';
import { inlineWriter } from '../../services/ingest/store/store-writer.js';
import type { StoreWriter } from '../../services/ingest/store/store-writer.js';
import { emptyChangeSet } from '../../shared/records/change-set.js';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

const start = Date.UTC(2026, 10, 2, 12);

/** What happened, in order. */
let log: string[] = [];
/** Whether a write stays unfinished until somebody waits for it, and whether it fails then. */
let slow = false;
let fails = false;
let own: RecorderByHand;

/** A writer that writes when somebody waits for it, like a slow disk. */
function slowWriter(db: SqliteFile): StoreWriter {
  const writer = inlineWriter(db);
  let begun = 0;
  let open: (() => Error | null) | null = null;
  return {
    ...writer,
    begin: (changes, over) => {
      if (!slow) return writer.begin(changes, over);
      begun += 1;
      const number = begun;
      log.push(`begin ${number}`);
      let outcome: Error | null | undefined;
      // SQLITE_FULL, 13 (sqlite.org/rescode.html).
      const write = (): Error | null => (fails ? Object.assign(new Error('database or disk is full'), { code: 'ERR_SQLITE_ERROR', errcode: 13 }) : writer.begin(changes, over).outcome());
      open = () => {
        if (outcome !== undefined) return outcome;
        log.push(`written ${number}`);
        outcome = write();
        return outcome;
      };
      return { isOver: () => outcome !== undefined, outcome: open, synced: () => null };
    },
    settle: () => void open?.(),
  };
}

/** Sends a message that logs when it is read, which is when its commit is computed, and when it is acknowledged. */
function take(seq: number): void {
  const payload = Buffer.from(JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: 600, voltage: 30, travelSpeed: 550 }));
  let isRead = false;
  own.recorder.take({
    topic: 'weld/hall/c1/readings',
    retained: false,
    acknowledge: () => log.push(`acknowledged ${seq}`),
    get payload() {
      if (!isRead) log.push(`read ${seq}`);
      isRead = true;
      return payload;
    },
  });
}

const storedItems = (): number => own.counted().stored;

beforeEach(() => {
  slow = fails = false;
  own = recorderByHand((db) => db, slowWriter);
  take(1);
  own.clock.pass(10);
  log = [];
  slow = true;
});

afterEach(() => {
  slow = fails = false;
  own.close();
});

it('computes a commit while the one before is being written, and acknowledges in their order', () => {
  take(2);
  own.clock.pass(5);
  expect(log).toEqual(['read 2', 'begin 1']);
  take(3);
  own.clock.pass(5);
  expect(log).toEqual(['read 2', 'begin 1', 'read 3', 'written 1', 'begin 2', 'acknowledged 2']);
  // The next commit waits for the one being written.
  own.clock.pass(1_000);
  expect(log.filter((line) => !line.startsWith('begin')).slice(0, 6)).toEqual(['read 2', 'read 3', 'written 1', 'acknowledged 2', 'written 2', 'acknowledged 3']);
  expect(storedItems()).toBe(3);
});

it('throws away what was computed behind a commit that fails, and takes both again in their order', () => {
  take(2);
  own.clock.pass(5);
  fails = true;
  take(3);
  own.clock.pass(5);
  expect(log).toEqual(['read 2', 'begin 1', 'read 3', 'written 1']);
  expect(own.health).toMatchObject({ ok: false, reason: 'storage does not take writes: database or disk is full' });
  own.clock.pass(2_000);
  expect(storedItems()).toBe(1);
  fails = false;
  own.clock.pass(2_000);
  expect(log.filter((line) => line.startsWith('acknowledged'))).toEqual(['acknowledged 2', 'acknowledged 3']);
  expect(own.health).toMatchObject({ ok: true });
  expect([storedItems(), own.counted().duplicate]).toEqual([3, 0]);
  const kept = own.db.prepare<[], { first: number; id: number }>('select first, id from kept order by id').all();
  expect(kept.map(({ first, id }) => id - first + 1).reduce((sum, count) => sum + count, 0)).toBe(3);
});

it('asks once whether a commit is still stored, and stays with the answer', () => {
  let asked = 0;
  const pipeline = commitPipeline(slowWriter(own.db), () => {
    asked += 1;
    if (asked === 1) throw new Error('the file is gone');
  });
  const over: (Error | null)[] = [];
  pipeline.begin({ ...emptyChangeSet(), probe: 1 }, (failure) => { over.push(failure); });
  expect(pipeline.failure()).toMatchObject({ message: 'the file is gone' });
  expect(pipeline.finish()).toMatchObject({ message: 'the file is gone' });
  expect(over).toMatchObject([{ message: 'the file is gone' }]);
  expect([asked, pipeline.finish()]).toEqual([1, null]);
});

it('stores what is on its way when it is stopped', () => {
  take(2);
  own.clock.pass(5);
  own.recorder.stop();
  expect(log).toContain('acknowledged 2');
  slow = false;
  own.restart('killed');
  take(2);
  own.clock.pass(10);
  expect(own.counted()).toMatchObject({ stored: 2, duplicate: 1 });
});

it('reads what the last change set left, also where that is still being written', () => {
  const writer = slowWriter(own.db);
  const store = openStore(own.db, writer);
  const procedure = { id: 'W-1', revision: 1, created: start * 1e3, by: 'op-07', body: '{}' };
  writer.begin({ ...emptyChangeSet(), procedures: [procedure] }, () => undefined);
  expect(log).toEqual(['begin 1']);
  expect(store.statements.procedures.all('W-1')).toMatchObject([{ revision: 1 }]);
  expect(log).toEqual(['begin 1', 'written 1']);
});

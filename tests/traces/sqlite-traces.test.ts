import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { firstSeed } from '../seeds.js';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import { sqliteTraceReader, sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { arcColumns } from '../../shared/weld/rows/row.js';
import { asReadings, foldedRows } from './folded-rows.js';
import { madeRows, madeStands } from './made-rows.js';
import { openTraceDatabase, sqliteTraceStore, tracePages } from './trace-database.js';
import { arcNumbers, namedRows, readArc, readRun, runNumbers } from '../named-rows.js';

const start = 1_700_000_000_037_000;
const made = [...madeRows(madeStands({ count: 1300, start, interval: 100_000, jitter: 3, seed: 11 }))].map((row) => row.arc);

describe('traces in SQLite', () => {
  let folder: string;
  let db: SqliteFile;
  let reading: SqliteFile;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'traces-'));
    db = openTraceDatabase(join(folder, 'store.db'));
    reading = openSqlite(join(folder, 'store.db'), { readOnly: true });
  });
  afterEach(() => {
    reading.close();
    db.close();
    rmSync(folder, { recursive: true });
  });

  it('drops a seal before each change of a trace, whatever was rolled back before', () => {
    const store = sqliteTraceStore(db);
    const rolledBack = (work: () => void): void => {
      db.exec('begin');
      work();
      db.exec('rollback');
    };
    const whole = (to: number): void => { expect(readArc(sqliteTraceReader(reading), 'R1', 1)).toEqual(made.slice(0, to)); };
    store.appendArc('R1', 1, arcNumbers(made.slice(0, 700)));
    rolledBack(() => { store.seal('R1'); });
    store.appendArc('R1', 1, arcNumbers(made.slice(700, 800)));
    store.seal('R1');
    whole(800);
    rolledBack(() => {
      store.appendArc('R1', 1, arcNumbers(made.slice(800, 900)));
      store.appendArc('R1', 1, arcNumbers(made.slice(900, 950)));
    });
    whole(800);
    store.appendArc('R1', 1, arcNumbers(made.slice(800, 810)));
    whole(810);
    rolledBack(() => { store.seal('R1'); });
    store.appendArc('R1', 1, arcNumbers(made.slice(810, 820)));
    store.seal('R1');
    rolledBack(() => {
      store.remove('R1');
      store.appendArc('R1', 1, arcNumbers(made.slice(0, 10)));
    });
    whole(820);
    store.appendArc('R1', 1, arcNumbers(made.slice(820, 830)));
    whole(830);
  });

  it('reads sealed traces completely or throws, wherever in the file the name of a run was changed', () => {
    // With a bit turned over each of them comes before or behind others, so that a search that meets its entry goes astray.
    const sizes = new Map([['A', 4], ['B', 1], ['C', 7], ['D', 3], ['E', 9], ['F', 2], ['G', 6]].map(([letter, stretches]) => [`R-${letter}AAAAAAA`, 10 * Number(stretches)]));
    const runs = [...sizes.keys()];
    const sizeOf = (run: string): number => sizes.get(run) ?? 0;
    const store = sqliteTraceStore(db);
    const arcs = [1, 2];
    for (const run of runs) {
      // Stretches of 10 rows each, as closed runs that went on have them.
      for (let from = 0; from < sizeOf(run); from += 10) {
        for (const arc of arcs) store.appendArc(run, arc, arcNumbers(made.slice(from, from + 10)));
        store.close(run);
      }
      store.setTail(run, arcs.map((arc) => ({ arc, rows: arcNumbers(made.slice(sizeOf(run), sizeOf(run) + 5)) })), runNumbers([]));
      store.seal(run);
    }
    db.pragma('wal_checkpoint(truncate)');
    const bytes = readFileSync(join(folder, 'store.db'));
    const places = runs.flatMap((run) => {
      const own: number[] = [];
      for (let at = bytes.indexOf(run); at >= 0; at = bytes.indexOf(run, at + 1)) own.push(at);
      // Each stretch and a tail of each arc, in table and index; the seal.
      expect(own.length).toBeGreaterThanOrEqual(2 * arcs.length * (sizeOf(run) / 10 + 1) + 1);
      return own;
    });
    const seed = firstSeed();
    const seen = { whole: 0, thrown: 0 };
    const readAll = (reader: ReturnType<typeof sqliteTraceReader>, run: string): void => {
      try {
        const found = reader.arcs(run).map((arc) => [arc, readArc(reader, run, arc)]);
        expect(found, `${run}, CHECK_SEED=${seed}`).toEqual(arcs.map((arc) => [arc, made.slice(0, sizeOf(run) + 5)]));
        seen.whole += 1;
      } catch (thrown) {
        if (!(thrown instanceof Error) || !/damaged|malformed/.test(thrown.message)) throw thrown;
        seen.thrown += 1;
      }
    };
    // One place in so many, others each time.
    const everyPlace = isFull ? 1 : 6;
    for (const at of places.filter((_, n) => n % everyPlace === seed % everyPlace)) {
      for (const bit of [1, 2, 4]) {
        const copy = Buffer.from(bytes);
        copy.writeUInt8(copy.readUInt8(at + 2) ^ bit, at + 2);
        const file = join(folder, 'copy.db');
        writeFileSync(file, copy);
        const damaged = openSqlite(file, { readOnly: true });
        try {
          const reader = sqliteTraceReader(damaged);
          for (const run of runs) readAll(reader, run);
        } finally {
          damaged.close();
        }
      }
    }
    expect(seen.whole).toBeGreaterThan(0);
    expect(seen.thrown).toBeGreaterThan(0);
  });

  it.each([
    ['a minute is missing', 'DELETE FROM trace_packed WHERE arc = 1 AND id = (SELECT min(id) FROM trace_packed)'],
    ['a part is said to be of another arc', 'UPDATE trace_packed SET arc = 2 WHERE id = (SELECT max(id) FROM trace_packed)'],
    ['a part is said to lie elsewhere', 'UPDATE trace_packed SET first_index = first_index + 1 WHERE id = (SELECT max(id) FROM trace_packed)'],
    ['the newest rows are missing', 'DELETE FROM trace_tail'],
  ])('throws where a trace is sealed and %s, and reads it again once it is written anew', (_what, sql) => {
    const store = sqliteTraceStore(db);
    store.appendArc('R1', 1, arcNumbers(made.slice(0, 1250)));
    store.close('R1');
    store.setTail('R1', [{ arc: 1, rows: arcNumbers(made.slice(1250)) }], runNumbers([]));
    store.seal('R1');
    const reader = sqliteTraceReader(reading);
    expect(readArc(reader, 'R1', 1)).toEqual(made);
    db.exec(sql);
    // What was found whole is looked at once by each reader.
    const later = sqliteTraceReader(reading);
    expect(() => later.arcs('R1')).toThrow(/the trace of run R1 cannot be read \(it is made of other parts than were written\): the store is damaged/);
    expect(() => later.extent('R1')).toThrow(/store is damaged/);
    expect(() => later.readArcColumns('R1', 1, arcColumns, made[100]?.index, made[200]?.index)).toThrow(/store is damaged/);
    store.remove('R1');
    expect(readArc(later, 'R1', 1)).toEqual([]);
    store.appendArc('R1', 1, arcNumbers(made));
    expect(readArc(later, 'R1', 1)).toEqual(made);
    store.seal('R1');
    expect(readArc(later, 'R1', 1)).toEqual(made);
  });

  it('shows another connection what was committed before, while the writer is in a transaction and packs', () => {
    const store = sqliteTraceStore(db);
    const reader = sqliteTraceReader(reading);
    db.transaction(() => {
      store.appendArc('r1', 1, arcNumbers(made.slice(0, 599)));
      store.setTail('r1', [{ arc: 1, rows: arcNumbers(made.slice(599, 620)) }], runNumbers([]));
    })();
    const asked = reader.readArcColumns('r1', 1, arcColumns);
    db.exec('BEGIN IMMEDIATE');
    store.appendArc('r1', 1, arcNumbers(made.slice(599, 700)));
    store.setTail('r1', [{ arc: 1, rows: arcNumbers(made.slice(700, 720)) }], runNumbers([]));
    expect(readArc(reader, 'r1', 1)).toEqual(made.slice(0, 620));
    expect(reader.extent('r1')?.rows).toBe(620);
    expect(readArc(sqliteTraceReader(db), 'r1', 1), 'the writer sees its own').toEqual(made.slice(0, 720));
    db.exec('COMMIT');
    expect(readArc(reader, 'r1', 1)).toEqual(made.slice(0, 720));
    expect(namedRows(asked, arcColumns), 'what was asked for before is of that moment').toEqual(made.slice(0, 620));
  });

  it('is as before when the caller rolls back', () => {
    const store = sqliteTraceStore(db);
    db.transaction(() => {
      store.appendArc('r1', 1, arcNumbers(made.slice(0, 599)));
    })();
    db.exec('BEGIN');
    store.appendArc('r1', 1, arcNumbers(made.slice(599, 1250)));
    store.cut('r1', made[100]?.index ?? 0);
    db.exec('ROLLBACK');
    expect(readArc(sqliteTraceReader(db), 'r1', 1)).toEqual(made.slice(0, 599));
    store.appendArc('r1', 1, arcNumbers(made.slice(599, 1300)));
    expect(readArc(sqliteTraceReader(db), 'r1', 1)).toEqual(made.slice(0, 1300));
  });

  it('holds one packed entry a minute, and no plain ones after close', () => {
    const store = sqliteTraceStore(db);
    for (const row of made.slice(0, 1300)) store.appendArc('r1', 1, arcNumbers([row]));
    const count = (table: string): unknown => db.prepare(`SELECT count(*) FROM ${table}`).pluck().get();
    expect([count('trace_packed'), count('trace_recent')]).toEqual([2, 100]);
    store.close('r1');
    expect([count('trace_packed'), count('trace_recent')]).toEqual([3, 0]);
  });

  it('can be set up twice', () => {
    expect(() => { db.exec(sqliteTracesSchema); }).not.toThrow();
  });

  it('names the run, the arc and the place where stored bytes are damaged', () => {
    const store = sqliteTraceStore(db);
    store.appendArc('r1', 1, arcNumbers(made.slice(0, 600)));
    const body = db.prepare('SELECT body FROM trace_packed').pluck().get() as Buffer;
    for (const damaged of [body.subarray(0, 40), Buffer.concat([Buffer.of(9), body.subarray(1)]), Buffer.alloc(0)]) {
      db.prepare('UPDATE trace_packed SET body = ?').run(damaged);
      expect(() => readArc(sqliteTraceReader(db), 'r1', 1)).toThrow(`run r1, arc 1, from row ${made[0]?.index ?? 0}`);
    }
  });

  it('takes at most 32 bytes a row, arc and run rows together, with readings off the grid and ms of jitter', () => {
    // Two hours represent the day, which tests/bench/trace-size.ts stores in full.
    const count = 72_000;
    const rows = foldedRows(asReadings(madeStands({ count, start, interval: 100_000, jitter: 3, seed: 3 })));
    const store = sqliteTraceStore(db);
    db.transaction(() => {
      for (let from = 0; from < rows.arc.length; from += 50) {
        store.appendArc('r1', 1, arcNumbers(rows.arc.slice(from, from + 50)));
        store.appendRun('r1', runNumbers(rows.run.slice(from, from + 50)));
      }
      store.close('r1');
    })();
    expect(rows.arc.length).toBeGreaterThanOrEqual(count);
    expect(tracePages(db) / rows.arc.length).toBeLessThan(32);
    const back = readArc(sqliteTraceReader(db), 'r1', 1);
    expect(back.length).toBe(rows.arc.length);
    expect(back.findIndex((row, at) => !same(row, rows.arc[at]))).toBe(-1);
    const backRun = readRun(sqliteTraceReader(db), 'r1');
    expect(backRun.findIndex((row, at) => !same(row, rows.run[at]))).toBe(-1);
  });
});

function same(a: object, b: object | undefined): boolean {
  return b !== undefined && Object.entries(b).every(([name, value]) => Object.is(value, Reflect.get(a, name)));
}

describe('rows made for these tests', () => {
  it('are those of the service to the last bit, except for flags about the arc start', () => {
    const stands = [...madeStands({ count: 400, start, interval: 100_000, jitter: 3, seed: 5 })];
    const folded = foldedRows(asReadings(stands));
    const own = [...madeRows(stands)];
    // The last reading applies for no time in the service.
    for (let row = 1; row < 398; row += 1) {
      expect(own[row]?.arc).toEqual(folded.arc[row]);
      expect(own[row]?.run).toEqual(folded.run[row]);
    }
  });
});

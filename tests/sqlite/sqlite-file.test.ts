import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { boundNumber } from '../../shared/sqlite/bound-number.js';
import { sqliteCode, sqliteCodes } from '../../shared/sqlite/sqlite-error.js';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'sqlite-file-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
});

function codeOf(work: () => unknown): number | null {
  try {
    work();
  } catch (thrown) {
    return sqliteCode(thrown);
  }
  throw new Error('nothing was thrown');
}

// Result codes: sqlite.org/rescode.html.
it('returns the primary result code of SQLite\'s errors', () => {
  const db = openSqlite(join(folder, 'a.db'));
  db.exec('CREATE TABLE t (id INTEGER PRIMARY KEY, body BLOB NOT NULL)');
  db.exec("INSERT INTO t VALUES (1, x'00')");
  expect(codeOf(() => { db.exec("INSERT INTO t VALUES (1, x'00')"); })).toBe(sqliteCodes.constraint);
  expect(codeOf(() => db.prepare('SELECT nothing FROM t'))).toBe(sqliteCodes.error);
  const other = openSqlite(join(folder, 'a.db'));
  db.exec('BEGIN EXCLUSIVE');
  expect(codeOf(() => { other.exec('BEGIN IMMEDIATE'); })).toBe(sqliteCodes.busy);
  writeFileSync(join(folder, 'text.db'), 'This is no database, but long enough to have a header.'.repeat(40));
  expect(codeOf(() => openSqlite(join(folder, 'text.db')).pragma('user_version'))).toBe(sqliteCodes.notADatabase);
  for (const open of [db, other]) open.close();
  expect(sqliteCode(new Error('another kind'))).toBeNull();
});

it('commits the work of a transaction, or none of it', () => {
  const db = openSqlite(join(folder, 'a.db'));
  db.exec('CREATE TABLE t (id INTEGER)');
  const put = db.transaction((...ids: number[]) => {
    for (const id of ids) db.prepare('INSERT INTO t VALUES (?)').run(id);
    if (ids.includes(0)) throw new Error('none of it');
  });
  put.immediate(1, 2);
  expect(() => { put(3, 0); }).toThrow('none of it');
  expect(db.prepare('SELECT id FROM t').pluck().all()).toEqual([1, 2]);
  expect(db.isTransaction).toBe(false);
  db.close();
});

it('writes nothing to a file that is open for reading, and creates none', () => {
  expect(() => openSqlite(join(folder, 'none.db'), { readOnly: true })).toThrow('unable to open database file');
  openSqlite(join(folder, 'a.db')).exec('CREATE TABLE t (id INTEGER)');
  const reading = openSqlite(join(folder, 'a.db'), { readOnly: true });
  expect(() => { reading.exec('INSERT INTO t VALUES (1)'); }).toThrow('readonly');
  reading.close();
});

it('is closed once, however often it is asked to close', () => {
  const db = openSqlite(':memory:');
  db.close();
  expect(() => { db.close(); }).not.toThrow();
  expect(() => db.prepare('SELECT 1')).toThrow();
});

it('returns numbers and blobs as they were bound', () => {
  const db = openSqlite(':memory:');
  db.exec('CREATE TABLE t (whole INTEGER, real REAL, body BLOB)');
  const body = new Uint8Array([0, 255, 1]);
  db.prepare('INSERT INTO t VALUES (?, ?, ?)').run(Number.MAX_SAFE_INTEGER, 0.1, body);
  const row = db.prepare<[], { whole: number; real: number; body: Uint8Array }>('SELECT * FROM t').get();
  expect({ ...row }).toEqual({ whole: Number.MAX_SAFE_INTEGER, real: 0.1, body });
  db.close();
});

// The reference is what the library itself returns.
it('stores each number as boundNumber says', () => {
  const db = openSqlite(':memory:');
  db.exec('CREATE TABLE t (value REAL NOT NULL) STRICT');
  const add = db.prepare('INSERT INTO t VALUES (?)');
  const last = db.prepare<[], { value: number }>('SELECT value FROM t ORDER BY rowid DESC LIMIT 1');
  const numbers = [0, 2 ** -52, 2 ** -53, -(2 ** -53), 1 - 2 ** -53, -1 + 2 ** -53, -1 + 2 ** -52, 1 + 2 ** -52, 4 - 2 ** -51, -4 + 2 ** -51, 6.55e-153, 5e-324, -5e-324, 1e300, 1092.752495893224, 2 ** 31 + 2 ** -21, -(2 ** 31) - 2 ** -21];
  for (let power = 1; power < 300; power += 1) numbers.push(1.7 * 10 ** -power, -1.7 * 10 ** -power, -1 + 1.7 * 10 ** -power, -1.7 * 10 ** power);
  for (const number of numbers) {
    add.run(number);
    expect(last.get()?.value, String(number)).toBe(boundNumber(number) + 0);
  }
  db.close();
});

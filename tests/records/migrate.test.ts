import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { checkVersion, migrate, schemaVersion } from '../../shared/records/migrate.js';
import { alarmSchema } from '../../shared/api-types/alarm.js';
import { listAlarms } from '../../shared/records/alarms.js';
import { firstTables } from '../../shared/records/migrations/0001-first-tables.js';
import { runSearch } from '../../shared/records/migrations/0002-run-search.js';
import { alarmTable } from '../../shared/records/migrations/0003-alarms.js';
import { takenAssignments } from '../../shared/records/migrations/0004-taken-assignments.js';
import { keptPacks } from '../../shared/records/migrations/0005-kept-packs.js';
import { alarmText } from '../api/fake-port.js';
import { openReader, openWriter, recordsOf } from '../../shared/records/open-database.js';
import type { SqliteFile } from '../../shared/records/open-database.js';

let folder: string;
let file: string;
let writer: SqliteFile;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'seamwarden-db-'));
  file = join(folder, 'test.db');
  writer = openWriter(file);
});

afterEach(() => {
  writer.close();
  rmSync(folder, { recursive: true });
});

test('the writer syncs at each commit, keeps a log beside large pages and holds references', () => {
  migrate(writer, []);
  expect(['page_size', 'journal_mode', 'synchronous', 'foreign_keys'].map((name) => writer.pragma(name, { simple: true }))).toEqual([16384, 'wal', 2, 1]);
  expect(() => writer.prepare("INSERT INTO boots (stream_id, boot, rank, marks) VALUES (99, 'b', 0, '[]')").run()).toThrow(/FOREIGN KEY/);
});

test('a database is made with its tables and those that come with them, once', () => {
  const extra = ['CREATE TABLE beside (id INTEGER PRIMARY KEY)'];
  migrate(writer, extra);
  migrate(writer, extra);
  const names = writer.prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name").pluck().all();
  expect(names).toEqual(['alarms', 'assignments', 'beside', 'boots', 'checkpoints', 'kept', 'late', 'probe', 'procedures', 'refused', 'runs', 'streams', 'taken_assignments', 'time_marks']);
  expect(writer.pragma('user_version', { simple: true })).toBe(schemaVersion);
});

test('a step that fails leaves nothing behind', () => {
  expect(() => {
    migrate(writer, ['CREATE TABLE beside (id INTEGER PRIMARY KEY)', 'CREATE NONSENSE']);
  }).toThrow(/syntax error/);
  expect(writer.prepare('SELECT count(*) AS count FROM sqlite_schema').get()).toEqual({ count: 0 });
  expect(writer.pragma('user_version', { simple: true })).toBe(0);
});

test('a database of a newer program, or of another one, is left alone', () => {
  writer.pragma(`user_version = ${schemaVersion + 1}`);
  expect(() => {
    migrate(writer, []);
  }).toThrow(`the database has version ${schemaVersion + 1}, this program knows versions up to ${schemaVersion}`);
  writer.pragma('user_version = 0');
  writer.exec('CREATE TABLE theirs (id INTEGER)');
  expect(() => {
    migrate(writer, []);
  }).toThrow(/tables that this program did not make/);
});

test('a reader reads what is committed beside a writer that writes, and changes nothing', async () => {
  migrate(writer, []);
  const reader = openReader(file);
  const records = recordsOf(reader);
  checkVersion(reader);
  writer.exec("BEGIN IMMEDIATE; INSERT INTO streams (site, carriage, stream) VALUES ('a', 'b', '')");
  expect(await records.selectFrom('streams').selectAll().execute()).toEqual([]);
  writer.exec('COMMIT');
  expect(await records.selectFrom('streams').select(['id', 'site', 'online']).execute()).toEqual([{ id: 1, site: 'a', online: null }]);
  await expect(records.insertInto('streams').values({ site: 'c', carriage: 'd', stream: '', online: null, last_seen: null, clock_offset: null, snapshot: null }).execute()).rejects.toThrow(/readonly/);
  await records.destroy();
});

test('a reader makes no file, and refuses a version that is not its own', () => {
  expect(() => openReader(join(folder, 'none.db'))).toThrow();
  migrate(writer, []);
  writer.pragma(`user_version = ${schemaVersion + 1}`);
  const reader = openReader(file);
  expect(() => {
    checkVersion(reader);
  }).toThrow(/this program reads version/);
  reader.close();
});

test('times in microseconds up to 2106 are kept to the last one', () => {
  migrate(writer, []);
  const latest = Date.UTC(2106, 11, 31, 23, 59, 59) * 1000 + 999_999;
  writer.prepare('INSERT INTO probe (id, written) VALUES (1, ?)').run(latest);
  expect(writer.prepare('SELECT written FROM probe').pluck().get()).toBe(latest);
  expect(() => writer.prepare("UPDATE probe SET written = 'soon'").run()).toThrow(/cannot store TEXT/);
});

test('alarms of a store from before seam, run number and times of recording were kept are answered without them', async () => {
  for (const statements of [firstTables, runSearch, alarmTable, takenAssignments, keptPacks]) for (const statement of statements) writer.exec(statement);
  writer.pragma('user_version = 5');
  const before = JSON.parse(alarmText('a1', 'returned', { returnedAt: '2026-11-23T08:00:20.000Z' })) as Record<string, unknown>;
  for (const name of ['seam', 'runNumber', 'recordedAt', 'clearedRecordedAt']) Reflect.deleteProperty(before, name);
  const insert = writer.prepare("INSERT INTO alarms (id, stream_id, run_id, site, carriage, state, facts, record) VALUES (?, NULL, 'r1', 'hall-1', 'c1', ?, ?, ?)");
  insert.run('a1', 'returned', '{"id":"a1","returnedAt":5}', JSON.stringify(before));
  insert.run('a2', 'unacknowledged', '{"id":"a2","returnedAt":null}', JSON.stringify({ ...before, id: 'a2', state: 'unacknowledged', returnedAt: null, worst: 35.199999999999996 }));
  migrate(writer, []);
  const page = await listAlarms(recordsOf(openReader(file)), {}, { limit: 10, after: null });
  expect(page.rows.map((row) => alarmSchema.parse(JSON.parse(row.record)))).toMatchObject([
    { id: 'a2', seam: null, runNumber: null, recordedAt: null, clearedRecordedAt: null, worst: 35.199999999999996 },
    { id: 'a1', seam: null, runNumber: null, recordedAt: null, clearedRecordedAt: null, worst: 35.2 },
  ]);
  expect(writer.prepare('SELECT id, over, priority FROM alarms ORDER BY id').all()).toEqual([{ id: 'a1', over: 1, priority: 'high' }, { id: 'a2', over: 0, priority: 'high' }]);
});

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

test('a database is created with its tables and the extra ones, once', () => {
  const extra = ['CREATE TABLE beside (id INTEGER PRIMARY KEY)'];
  migrate(writer, extra);
  migrate(writer, extra);
  const names = writer.prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name").pluck().all();
  expect(names).toEqual(['alarms', 'assignments', 'beside', 'boots', 'checkpoints', 'densities', 'excursion_pieces', 'imports', 'job_changes', 'kept', 'late', 'mark_pieces', 'probe', 'procedures', 'refused', 'runs', 'sensors', 'streams', 'taken_assignments', 'temperatures', 'time_marks']);
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

test('a reader creates no file, and refuses a version that is not its own', () => {
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

test('alarms from before seam, run number and times of recording were kept are answered without them', async () => {
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

test('runs of an older database are found by their content, and say whether they were judged and where they came from', () => {
  const earlier = [firstTables, runSearch, alarmTable, takenAssignments, keptPacks];
  for (const statement of earlier.flat()) writer.exec(statement);
  writer.pragma(`user_version = ${earlier.length}`);
  writer.prepare("INSERT INTO streams (id, site, carriage, stream) VALUES (1, 'hall-2', 'c1', ''), (2, 'hall-2', 'c1', 'log-1')").run();
  const group = (runs: readonly [number, number], more: object): object => ({ name: 'g', runs, ...more });
  const body = JSON.stringify({
    runGroups: [group([1, 1], { side: 2 }), group([1, 2], { arcs: [{ arc: 1, electrodeExtension: { min: 24 }, voltage: { max: 34 } }] }), group([3, 3], { arcs: [{ arc: 1, electrodeExtension: { max: 40 } }], preheat: { min: 15 } })],
  });
  writer.prepare("INSERT INTO procedures (id, revision, created, \"by\", body) VALUES ('P-1', 2, 0, 'x', ?)").run(body);
  const add = (id: string, stream: number, run: number | null, record: object): void => {
    writer
      .prepare("INSERT INTO runs (id, stream_id, site, carriage, seam, run, attempt, assigned, state, simulated, started, version, span, marks, record) VALUES (?, ?, 'hall-2', 'c1', ?, ?, 1, ?, 'finished', 0, 0, 1, '{}', '{}', ?)")
      .run(id, stream, run === null ? null : 'S', run, run === null ? 0 : 1, JSON.stringify({ excursions: 0, complete: true, length: 550.917, heatInput: 1.963636, ...record }));
  };
  const procedure = { id: 'P-1', revision: 2 };
  add('judged', 2, 1, { procedure, assignment: { procedure: 'P-1', side: 1, operator: 'op-7', fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1' }, { arc: 2 }] } });
  add('other-side', 1, 1, { procedure, assignment: { procedure: 'P-1', side: 2 } });
  add('no-limits', 1, 3, { procedure, assignment: { procedure: 'P-1' } });
  add('no-group', 1, 9, { procedure, assignment: { procedure: 'P-1' } });
  add('unknown', 1, 1, { procedure: null, assignment: { procedure: 'NOPE' } });
  add('none', 1, 1, { procedure: null, assignment: {} });
  add('unassigned', 1, null, { procedure: null, assignment: null, complete: false, excursions: 0 });
  migrate(writer, []);
  interface Row { readonly id: string; readonly record: string; readonly judged: number; readonly lots: string | null; readonly operator: string | null; readonly procedure: string | null; readonly complete: number; readonly length: number }
  const rows = writer.prepare<[], Row>('SELECT * FROM runs ORDER BY rowid').all();
  const said = rows.map(({ id, judged, record }) => [id, judged, (JSON.parse(record) as { judged: boolean }).judged, (JSON.parse(record) as { notJudged: string | null }).notJudged]);
  expect(said).toEqual([
    ['judged', 1, true, null], ['other-side', 0, false, 'noLimits'], ['no-limits', 0, false, 'noLimits'], ['no-group', 0, false, 'noLimits'],
    ['unknown', 0, false, 'procedureUnknown'], ['none', 0, false, 'noProcedure'], ['unassigned', 0, false, 'unassigned'],
  ]);
  expect(rows[0]).toMatchObject({ lots: '\nF-1\nW-1\n', operator: 'op-7', procedure: 'P-1', complete: 1, length: 550.917 });
  expect(rows[4]).toMatchObject({ lots: null, procedure: 'NOPE' });
  expect(JSON.parse(rows[0]?.record ?? '')).toMatchObject({ origin: { kind: 'log', file: null, at: null, by: null }, heatInput: 1.963636 });
  expect(JSON.parse(rows[1]?.record ?? '')).toMatchObject({ origin: { kind: 'live' } });
});

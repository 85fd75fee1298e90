import type { SqliteFile } from './open-database.js';
import { firstTables } from './migrations/0001-first-tables.js';
import { runSearch } from './migrations/0002-run-search.js';
import { alarmTable } from './migrations/0003-alarms.js';
import { takenAssignments } from './migrations/0004-taken-assignments.js';
import { keptPacks } from './migrations/0005-kept-packs.js';
import { alarmColumns } from './migrations/0006-alarm-columns.js';
import { runList } from './migrations/0007-run-list.js';
import { itemAccounts } from './migrations/0009-item-accounts.js';
import { jobChanges } from './migrations/0010-job-changes.js';
import { alarmSearch } from './migrations/0011-alarm-search.js';
import { importEnds } from './migrations/0013-imports.js';
import { excursionPieces } from './migrations/0020-excursion-pieces.js';
import { markPieces } from './migrations/0021-mark-pieces.js';
import { recordSums } from './migrations/0022-record-sums.js';
import { rowSums } from './migrations/0023-row-sums.js';
import { recordShapes } from './migrations/0024-record-shapes.js';
import { bootThrough } from './migrations/0025-boot-through.js';
import { runsByPass } from './migrations/0026-runs-by-pass.js';
import { sensorTables } from './migrations/0027-sensors.js';
import { temperatures } from './migrations/0030-temperatures.js';
import { turns } from './migrations/0040-turns.js';
import { runsByEnd } from './migrations/0050-runs-by-end.js';

/** Statements that bring a database from one version to the next. A released list never changes. */
const migrations: readonly (readonly string[])[] = [
  firstTables, runSearch, alarmTable, takenAssignments, keptPacks, alarmColumns, runList, itemAccounts, jobChanges, alarmSearch, importEnds, excursionPieces, markPieces, recordSums, rowSums, recordShapes, bootThrough,
  runsByPass, sensorTables, temperatures, turns, runsByEnd,
];

/** The version that this program writes and reads. */
export const schemaVersion = migrations.length;

/** Marks the file as ours in its header (SQLite file format, offset 68): "SmWd". */
const applicationId = 0x536d5764;

/**
 * Brings a database up to `schemaVersion`, each step in a transaction of its own. `extra` holds the statements of other
 * tables, which run with the first step from whatever version there is: they create what is missing and are safe to run again. Throws if the file belongs to something else or was written
 * by a newer program: there is no way back, and reading half of it would lose the rest.
 */
export function migrate(sqlite: SqliteFile, extra: readonly string[]): void {
  const found = versionOf(sqlite);
  if (found > schemaVersion) {
    throw new Error(`the database has version ${found}, this program knows versions up to ${schemaVersion}: start the program that wrote it, or a newer one`);
  }
  if (found === 0 && sqlite.prepare("SELECT 1 FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%' LIMIT 1").get() !== undefined) {
    throw new Error('the database holds tables that this program did not make: name another data directory');
  }
  for (let version = found; version < schemaVersion; version += 1) {
    const statements = [...(migrations[version] ?? []), ...(version === found ? extra : [])];
    sqlite.transaction(() => {
      for (const statement of statements) sqlite.exec(statement);
      sqlite.pragma(`application_id = ${applicationId}`);
      sqlite.pragma(`user_version = ${version + 1}`);
    }).immediate();
  }
}

/** Throws unless the database is of the very version that this program reads. */
export function checkVersion(sqlite: SqliteFile): void {
  const found = versionOf(sqlite);
  if (found !== schemaVersion) throw new Error(`the database has version ${found}, this program reads version ${schemaVersion}`);
}

function versionOf(sqlite: SqliteFile): number {
  return Number(sqlite.pragma('user_version', { simple: true }));
}

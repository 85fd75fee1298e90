import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';

/** A database with the trace tables, set as the service sets its own. */
export function openTraceDatabase(file: string): SqliteFile {
  const db = openSqlite(file);
  db.pragma('page_size = 16384');
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec(sqliteTracesSchema);
  return db;
}

/** Bytes of all pages that the trace tables and their indexes take in the database. */
export function tracePages(db: SqliteFile): number {
  return db.prepare("SELECT sum(pgsize) FROM dbstat WHERE name LIKE 'trace_%'").pluck().get() as number;
}

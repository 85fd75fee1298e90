import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import { sqliteTracesSchema, sqliteTraceWriter } from '../../shared/traces/sqlite-traces.js';
import { traceChanges } from '../../shared/traces/trace-change.js';
import type { TraceStore } from '../../shared/traces/trace-store.js';

/** A database with the trace tables, set as the service sets its own. */
export function openTraceDatabase(file: string): SqliteFile {
  const db = openSqlite(file);
  db.pragma('page_size = 16384');
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec(sqliteTracesSchema);
  return db;
}

/** The writing side of the traces in a database; each call takes effect at once. */
export function sqliteTraceStore(db: SqliteFile): TraceStore {
  return traceChanges(sqliteTraceWriter(db));
}

/** Bytes of all pages that the trace tables and their indexes take in the database. */
export function tracePages(db: SqliteFile): number {
  return db.prepare("SELECT sum(pgsize) FROM dbstat WHERE name LIKE 'trace_%'").pluck().get() as number;
}

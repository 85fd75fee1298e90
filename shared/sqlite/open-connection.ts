import { openSqlite, type SqliteFile } from './sqlite-file.js';

/** ms that a connection waits for another one before it gives up. */
const busyTimeout = 5000;

/**
 * The only connection that writes. A transaction is on the disk when its commit returns: WAL syncs at each commit with
 * synchronous FULL (SQLite documentation, pragma synchronous).
 */
export function openWriter(file: string): SqliteFile {
  const sqlite = openSqlite(file, { timeout: busyTimeout });
  // Only takes effect on an empty file, and only before it is switched to WAL.
  sqlite.pragma('page_size = 16384');
  sqlite.pragma('journal_mode = WAL');
  sqlite.pragma('synchronous = FULL');
  sqlite.pragma('foreign_keys = ON');
  return sqlite;
}

/** A connection that reads, beside the one that writes and without stopping it. The file must exist. */
export function openReader(file: string): SqliteFile {
  const sqlite = openSqlite(file, { readOnly: true, timeout: busyTimeout });
  sqlite.pragma('query_only = ON');
  return sqlite;
}

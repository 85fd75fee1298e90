import { Kysely, SqliteDialect } from 'kysely';
import type { SqliteFile } from '../sqlite/sqlite-file.js';
import { kyselyDatabase } from './kysely-database.js';
import type { Database } from './tables.js';

export { openReader, openWriter } from '../sqlite/open-connection.js';
export type { SqliteFile } from '../sqlite/sqlite-file.js';

/** Typed queries over an open connection; destroying it closes the connection. */
export function recordsOf(sqlite: SqliteFile): Kysely<Database> {
  return new Kysely<Database>({ dialect: new SqliteDialect({ database: kyselyDatabase(sqlite) }) });
}

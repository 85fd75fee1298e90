import type { SqliteDatabase } from 'kysely';
import type { SqliteFile } from '../sqlite/sqlite-file.js';

/** A connection as Kysely's dialect for SQLite expects it: parameters as one list, and a flag for statements that return rows. */
export function kyselyDatabase(sqlite: SqliteFile): SqliteDatabase {
  return {
    close: () => { sqlite.close(); },
    prepare: (sql) => {
      const statement = sqlite.prepare(sql);
      return {
        reader: statement.columns().length > 0,
        all: (parameters) => statement.all(...parameters),
        run: (parameters) => statement.run(...parameters),
        iterate: (parameters) => statement.iterate(...parameters),
      };
    },
  };
}

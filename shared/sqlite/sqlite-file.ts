import { DatabaseSync, enhance } from '@photostructure/sqlite';

/** A statement that is prepared once and run many times. Blobs come back as `Uint8Array`. */
export interface SqliteStatement<Parameters extends unknown[], Row = unknown> {
  run(...parameters: Parameters): { readonly changes: number; readonly lastInsertRowid: number | bigint };
  get(...parameters: Parameters): Row | undefined;
  all(...parameters: Parameters): Row[];
  iterate(...parameters: Parameters): IterableIterator<Row>;
  /** The columns of its rows; none where it gives no rows. */
  columns(): readonly { readonly name: string }[];
  /** Rows are the values of their first column from then on. */
  pluck(): SqliteStatement<Parameters, Row>;
}

/** A function whose work is one transaction: it commits where the work returns, and rolls back where it throws. */
export interface SqliteTransaction<Parameters extends unknown[], Result> {
  (...parameters: Parameters): Result;
  /** The same, taking the lock for writing at once rather than with the first write. */
  immediate(...parameters: Parameters): Result;
}

/** One connection to a database file, of the interface that Node gives its own SQLite (`node:sqlite`) and a few words more. */
export interface SqliteFile {
  prepare<Parameters extends unknown[] = unknown[], Row = unknown>(sql: string): SqliteStatement<Parameters, Row>;
  exec(sql: string): void;
  /** Rows of the pragma, or with `simple` the first value of the first. */
  pragma(text: string, options?: { readonly simple?: boolean }): unknown;
  transaction<Parameters extends unknown[], Result>(work: (...parameters: Parameters) => Result): SqliteTransaction<Parameters, Result>;
  readonly isTransaction: boolean;
  /** Closes it, or does nothing where it is closed. */
  close(): void;
}

export interface SqliteOptions {
  /** ms that a statement waits for another connection before it gives up; 0 where nothing is said. */
  readonly timeout?: number;
  /** Writes nothing; then the file must exist. */
  readonly readOnly?: boolean;
}

/** Opens a database file, `:memory:` for none. Throws where it cannot be opened; `sqlite-error.ts` tells the codes apart. */
export function openSqlite(file: string, options: SqliteOptions = {}): SqliteFile {
  const database = new DatabaseSync(file, options);
  const close = database.close.bind(database);
  // Two owners may both close a connection on the way out of a start that failed.
  Object.defineProperty(database, 'close', {
    value: () => {
      if (database.isOpen) close();
    },
  });
  return enhance(database);
}

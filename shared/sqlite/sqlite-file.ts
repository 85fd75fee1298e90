import { DatabaseSync, enhance } from '@photostructure/sqlite';

/** A statement that is prepared once and run many times. Blobs come back as `Uint8Array`. */
export interface SqliteStatement<Parameters extends unknown[], Row = unknown> {
  run(...parameters: Parameters): { readonly changes: number; readonly lastInsertRowid: number | bigint };
  get(...parameters: Parameters): Row | undefined;
  all(...parameters: Parameters): Row[];
  iterate(...parameters: Parameters): IterableIterator<Row>;
  /** The columns of its rows; empty if it returns no rows. */
  columns(): readonly { readonly name: string }[];
  /** From then on, rows are the values of their first column. */
  pluck(): SqliteStatement<Parameters, Row>;
}

/** A function whose work is one transaction: it commits where the work returns, and rolls back where it throws. */
export interface SqliteTransaction<Parameters extends unknown[], Result> {
  (...parameters: Parameters): Result;
  /** The same, but it takes the write lock at once rather than with the first write. */
  immediate(...parameters: Parameters): Result;
}

/** One connection to a database file, with the interface of Node's own SQLite (`node:sqlite`) and a few additions. */
export interface SqliteFile {
  prepare<Parameters extends unknown[] = unknown[], Row = unknown>(sql: string): SqliteStatement<Parameters, Row>;
  exec(sql: string): void;
  /** The rows of the pragma, or with `simple` the first value of the first row. */
  pragma(text: string, options?: { readonly simple?: boolean }): unknown;
  transaction<Parameters extends unknown[], Result>(work: (...parameters: Parameters) => Result): SqliteTransaction<Parameters, Result>;
  readonly isTransaction: boolean;
  /** Closes the connection, or does nothing if it is closed. */
  close(): void;
}

export interface SqliteOptions {
  /** ms that a statement waits for another connection before it gives up; default 0. */
  readonly timeout?: number;
  /** Writes nothing; then the file must exist. */
  readonly readOnly?: boolean;
}

/** Opens a database file, `:memory:` for none. Throws if it cannot be opened; `sqlite-error.ts` distinguishes the codes. */
export function openSqlite(file: string, options: SqliteOptions = {}): SqliteFile {
  const database = new DatabaseSync(file, options);
  const close = database.close.bind(database);
  // Two owners may both close a connection when a start fails.
  Object.defineProperty(database, 'close', { value: () => { if (database.isOpen) close(); } });
  return enhance(database);
}

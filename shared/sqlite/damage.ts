import type { SqliteFile } from './sqlite-file.js';

/** What people can do about a damaged store. */
export const remedy = 'stop the service, copy the whole data folder away, and put the newest backup in its place; the copy may still tell what the backup lacks';

/** Something read from the store differs from what was written there. The message names the file, the thing and the remedy. */
export interface DamageError extends Error {
  readonly damaged: true;
}

export function damageError(file: string, what: string, cause: unknown): DamageError {
  const reason = reasonOf(cause);
  return Object.assign(new Error(`${file}: ${what} cannot be read (${reason}): the store is damaged: ${remedy}`, { cause }), { damaged: true as const });
}

/** The message of an error in one line: for a damaged schema, SQLite quotes the statement as it finds it. */
export function reasonOf(thrown: unknown): string {
  const text = thrown instanceof Error ? thrown.message : String(thrown);
  return text.replace(/[\s\p{Cc}]+/gu, ' ');
}

/** A row or record whose checksum does not match. */
export function changedSinceWritten(what: string): DamageError {
  return damageError('seamwarden.db', what, new Error('it is other than its checksum says'));
}

export function isDamageError(error: unknown): error is DamageError {
  return error instanceof Error && 'damaged' in error;
}

/** The file of an open connection; empty for one in memory. */
export function fileOf(db: SqliteFile): string {
  const [main] = db.pragma('database_list') as { readonly file: string }[];
  return main?.file ?? '';
}

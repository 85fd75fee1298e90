import { sqliteCode, sqliteCodes } from '../sqlite/sqlite-error.js';

/** What people can do about a damaged store. */
export const wayBack = 'stop the service, copy the whole data folder away, and put the newest backup in its place; the copy may still tell what the backup lacks';

/** The error that a start breaks off with, naming the file; where the file is damaged, with the way back. */
export function openingError(file: string, thrown: unknown): Error {
  const reason = thrown instanceof Error ? thrown.message : String(thrown);
  const code = sqliteCode(thrown);
  // A schema that can not be parsed is told as an error of the statement, with SQLite's words about it.
  const damaged = code === sqliteCodes.corrupt || code === sqliteCodes.notADatabase || reason.includes('malformed');
  return new Error(`${file}: ${reason}${damaged ? `: the store is damaged: ${wayBack}` : ''}`, { cause: thrown });
}

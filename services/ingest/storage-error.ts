import { sqliteCode, sqliteCodes } from '../../shared/sqlite/sqlite-error.js';

/** The store can not take writes at present. */
export class StorageUnavailable extends Error {}

/** Codes that speak of a statement of ours rather than of the file or the disk. */
const ofStatements: readonly number[] = [sqliteCodes.error, sqliteCodes.constraint, sqliteCodes.mismatch];

export function isStorageError(thrown: unknown): boolean {
  const code = sqliteCode(thrown);
  return code !== null && !ofStatements.includes(code);
}

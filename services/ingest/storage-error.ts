import { sqliteCode, sqliteCodes } from '../../shared/sqlite/sqlite-error.js';

/** The store cannot take writes at present. */
export class StorageUnavailable extends Error {}

/** Codes that blame one of our statements rather than the file or the disk. */
const ofStatements: readonly number[] = [sqliteCodes.error, sqliteCodes.constraint, sqliteCodes.mismatch];

export function isStorageError(thrown: unknown): boolean {
  const code = sqliteCode(thrown);
  return code !== null && !ofStatements.includes(code);
}

/** The store can not take writes at present. */
export class StorageUnavailable extends Error {}

export function isStorageError(thrown: unknown): boolean {
  return thrown instanceof Error && 'code' in thrown && typeof thrown.code === 'string' && thrown.code.startsWith('SQLITE_') && !thrown.code.startsWith('SQLITE_CONSTRAINT') && thrown.code !== 'SQLITE_ERROR' && thrown.code !== 'SQLITE_MISMATCH';
}

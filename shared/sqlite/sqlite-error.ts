/** The primary result codes of SQLite (sqlite.org/rescode.html) that the program distinguishes. */
export const sqliteCodes = { error: 1, busy: 5, readOnly: 8, inputOutput: 10, corrupt: 11, full: 13, cannotOpen: 14, constraint: 19, mismatch: 20, notADatabase: 26 } as const;

/** SQLite's messages for codes (`sqlite3_errstr`), for calls of the driver that give only the message. */
const words: Readonly<Record<string, number>> = {
  'database is locked': sqliteCodes.busy,
  'attempt to write a readonly database': sqliteCodes.readOnly,
  'disk I/O error': sqliteCodes.inputOutput,
  'database disk image is malformed': sqliteCodes.corrupt,
  'database or disk is full': sqliteCodes.full,
  'unable to open database file': sqliteCodes.cannotOpen,
  'file is not a database': sqliteCodes.notADatabase,
};

/** The primary result code of an SQLite error; null for any other error. */
export function sqliteCode(thrown: unknown): number | null {
  if (!(thrown instanceof Error) || !('code' in thrown) || thrown.code !== 'ERR_SQLITE_ERROR') return null;
  // An extended code has the primary one in its lowest byte.
  if ('errcode' in thrown && typeof thrown.errcode === 'number') return thrown.errcode & 0xff;
  return words[thrown.message] ?? sqliteCodes.error;
}

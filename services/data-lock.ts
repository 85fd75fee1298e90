import { join } from 'node:path';
import { openSqlite } from '../shared/sqlite/sqlite-file.js';

/** Another process has the data directory. */
export class DataDirInUse extends Error {}

/**
 * Takes the data directory for this process: SQLite's exclusive lock is one of the operating system, so it ends with
 * the process however that ends. Throws where another process has it.
 */
export function lockDataDir(dataDir: string): { release(): void } {
  const lock = openSqlite(join(dataDir, 'lock'));
  try {
    lock.pragma('locking_mode = EXCLUSIVE');
    lock.exec('begin exclusive');
  } catch {
    lock.close();
    throw new DataDirInUse(`the data directory ${dataDir} is in use by another process`);
  }
  return {
    release: () => {
      lock.close();
    },
  };
}

import BetterSqlite3 from 'better-sqlite3';
import { join } from 'node:path';

/** Another process has the data directory. */
export class DataDirInUse extends Error {}

/**
 * Takes the data directory for this process: SQLite's exclusive lock is one of the operating system, so it ends with
 * the process however that ends. Throws where another process has it.
 */
export function lockDataDir(dataDir: string): { release(): void } {
  const lock = new BetterSqlite3(join(dataDir, 'lock'), { timeout: 0 });
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

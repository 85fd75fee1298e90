import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { sqliteCode, sqliteCodes } from '../shared/sqlite/sqlite-error.js';
import { openSqlite, type SqliteFile } from '../shared/sqlite/sqlite-file.js';

/** Another process has the data directory. */
export class DataDirInUse extends Error {}

/** An idle service writes once a second to see whether storage accepts writes, so watching for this long shows that it is there, ms. */
const watchFor = 2_500;

/**
 * Locks the data directory for this process. SQLite's exclusive lock is one of the operating system, so it ends with
 * the process, however that ends. Rejects if another process has it, also if somebody has removed the lock's file from under it, which
 * shows in a store without one that is still written to.
 */
export async function lockDataDir(dataDir: string, databaseFile: string): Promise<{ release(): void }> {
  const file = join(dataDir, 'lock');
  const wasThere = existsSync(file);
  const lock = takeLock(file, dataDir);
  if (!wasThere && existsSync(databaseFile) && (await isWritten(databaseFile))) {
    lock.close();
    throw inUse(dataDir);
  }
  return { release: () => { lock.close(); } };
}

function inUse(dataDir: string): DataDirInUse {
  return new DataDirInUse(`the data directory ${dataDir} is in use by another process`);
}

function takeLock(file: string, dataDir: string): SqliteFile {
  let lock: SqliteFile | null = null;
  try {
    lock = openSqlite(file);
    lock.pragma('locking_mode = EXCLUSIVE');
    lock.exec('begin exclusive');
    return lock;
  } catch (error) {
    lock?.close();
    const code = sqliteCode(error);
    if (code === sqliteCodes.busy) throw inUse(dataDir);
    const reason = error instanceof Error ? error.message : String(error);
    if (code === sqliteCodes.notADatabase) throw new Error(`${file} is not the lock that this program makes (${reason}). Remove it if no service runs on ${dataDir}.`);
    throw new Error(`${file} cannot be locked (${reason}): SEAMWARDEN_DATA_DIR has to be a folder that this user may write in, on a disk that locks`);
  }
}

/** Whether a process writes to the database. One that cannot be read is reported when it is opened for good. */
async function isWritten(databaseFile: string): Promise<boolean> {
  let database: SqliteFile | null = null;
  try {
    database = openSqlite(databaseFile, { readOnly: true });
    const version = (): unknown => database?.pragma('data_version', { simple: true });
    const before = version();
    const until = performance.now() + watchFor;
    while (performance.now() < until) {
      await wait(100);
      if (version() !== before) return true;
    }
    return false;
  } catch {
    return false;
  } finally {
    database?.close();
  }
}

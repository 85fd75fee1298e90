import { statSync } from 'node:fs';

interface FileIdentity {
  readonly device: number;
  readonly inode: number;
}

/**
 * Returns a function that throws unless the open files are still the ones that their names lead to: on Linux a file that was deleted, moved or
 * replaced still accepts writes, which nobody will find again. It is called after each commit, before anything is acknowledged, and costs two calls
 * of stat.
 */
export function storeWatch(databaseFile: string): () => void {
  const opened = new Map<string, FileIdentity>();
  const files = [databaseFile, `${databaseFile}-wal`];
  const look = (): void => {
    for (const file of files) {
      const found = identityOf(file);
      const before = opened.get(file);
      if (before === undefined) {
        // The log is created with the first write.
        if (found !== null) opened.set(file, found);
        continue;
      }
      if (found === null) throw moved(`${file} is gone: it was deleted or moved while the service runs`);
      if (found.device !== before.device || found.inode !== before.inode) throw moved(`${file} is another file now: it was replaced while the service runs`);
    }
  };
  look();
  return look;
}

function identityOf(file: string): FileIdentity | null {
  const found = statSync(file, { throwIfNoEntry: false });
  return found === undefined ? null : { device: found.dev, inode: found.ino };
}

/** SQLITE_READONLY_DBMOVED: SQLite's own code for a database file that was moved (sqlite.org/rescode.html). */
const databaseMoved = 1032;

function moved(text: string): Error {
  return Object.assign(new Error(`${text}; put the data folder back and start the service again`), { code: 'ERR_SQLITE_ERROR', errcode: databaseMoved });
}

import { statSync } from 'node:fs';

/**
 * Returns a function that throws unless the open files are still the ones that their names lead to: on Linux a file that was deleted, moved or
 * replaced still accepts writes, which nobody will find again. It is called after each commit, before anything is acknowledged, and costs two calls
 * of stat.
 */
export function storeWatch(databaseFile: string): () => void {
  /** The device and the inode of each file. */
  const opened = new Map<string, string>();
  const files = [databaseFile, `${databaseFile}-wal`];
  const look = (): void => {
    for (const file of files) {
      const found = statSync(file, { throwIfNoEntry: false });
      const identity = found === undefined ? null : `${found.dev} ${found.ino}`;
      const before = opened.get(file);
      if (before === undefined) {
        // The log is created with the first write.
        if (identity !== null) opened.set(file, identity);
        continue;
      }
      if (identity === null) throw moved(`${file} is gone: it was deleted or moved while the service runs`);
      if (identity !== before) throw moved(`${file} is another file now: it was replaced while the service runs`);
    }
  };
  look();
  return look;
}

/** SQLITE_READONLY_DBMOVED: SQLite's own code for a database file that was moved (sqlite.org/rescode.html). */
const databaseMoved = 1032;

function moved(text: string): Error {
  return Object.assign(new Error(`${text}; put the data folder back and start the service again`), { code: 'ERR_SQLITE_ERROR', errcode: databaseMoved });
}

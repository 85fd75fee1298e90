import { statSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { remedy } from '../../../shared/sqlite/damage.js';

export interface DamageFound {
  /** What SQLite reports; empty if it finds nothing. */
  readonly lines: readonly string[];
  readonly seconds: number;
}

/** The largest store that is checked at the start, bytes: SQLite reads all of it, and its log cannot be checkpointed meanwhile. */
const mostBytes = 4 * 1024 ** 3;

/**
 * Has SQLite check the store (`PRAGMA quick_check`: whether the structure of each page and row is valid, but not the contents of indexes) in a
 * separate thread, so that no carriage waits for it. `damaged` receives what it found, in words. Returns a function that stops it.
 */
export function lookForDamage(databaseFile: string, log: (level: 'info' | 'warn' | 'error', text: string) => void, damaged: (what: string) => void): () => Promise<unknown> {
  const { size } = statSync(databaseFile);
  if (size > mostBytes) {
    log('warn', `${databaseFile} has ${(size / 1024 ** 3).toFixed(1)} GiB and is not looked through for damage at the start; "seamwarden check" does that`);
    return () => Promise.resolve();
  }
  const worker = new Worker(new URL('./damage-worker.js', import.meta.url), { workerData: databaseFile });
  worker.once('message', ({ lines, seconds }: DamageFound) => {
    if (lines.length === 0) {
      log('info', `SQLite finds no damage in ${databaseFile} (${(size / 1024 ** 2).toFixed(0)} MiB, ${seconds.toFixed(1)} s)`);
      return;
    }
    damaged(`${databaseFile} is damaged: ${lines.join('; ')}: ${remedy}`);
  });
  worker.on('error', (error) => { log('warn', `${databaseFile} could not be looked through for damage: ${error.message}`); });
  // The process may end before the check does.
  worker.unref();
  return () => worker.terminate();
}

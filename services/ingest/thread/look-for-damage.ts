import { statSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { remedy } from '../../../shared/sqlite/damage.js';

export interface DamageLook {
  readonly databaseFile: string;
}

export interface DamageFound {
  /** SQLite's words, none where it finds nothing. */
  readonly lines: readonly string[];
  readonly seconds: number;
}

/** Bytes up to which a store is looked through at the start: SQLite reads all of it, and keeps its log from being taken in meanwhile. */
const mostBytes = 4 * 1024 ** 3;

/**
 * Has SQLite look through the store (`PRAGMA quick_check`: whether each page and each row can be what it is, not what indexes say) in a
 * thread of its own, so that no carriage waits for it. `damaged` is told what it found, in words. Returns what breaks it off.
 */
export function lookForDamage(databaseFile: string, log: (level: 'info' | 'warn' | 'error', text: string) => void, damaged: (what: string) => void): () => Promise<unknown> {
  const { size } = statSync(databaseFile);
  if (size > mostBytes) {
    log('warn', `${databaseFile} has ${(size / 1024 ** 3).toFixed(1)} GiB and is not looked through for damage at the start; "seamwarden check" does that`);
    return () => Promise.resolve();
  }
  const worker = new Worker(new URL('./damage-worker.js', import.meta.url), { workerData: { databaseFile } satisfies DamageLook });
  worker.once('message', ({ lines, seconds }: DamageFound) => {
    if (lines.length === 0) {
      log('info', `SQLite finds no damage in ${databaseFile} (${(size / 1024 ** 2).toFixed(0)} MiB, ${seconds.toFixed(1)} s)`);
      return;
    }
    damaged(`${databaseFile} is damaged: ${lines.join('; ')}: ${remedy}`);
  });
  worker.on('error', (error) => {
    log('warn', `${databaseFile} could not be looked through for damage: ${error.message}`);
  });
  // The process may end before it does.
  worker.unref();
  return () => worker.terminate();
}

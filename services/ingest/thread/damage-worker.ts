import { parentPort, workerData } from 'node:worker_threads';
import { damageMessage } from '../../../shared/records/damage.js';
import { openReader } from '../../../shared/sqlite/open-connection.js';
import { systemClock } from '../clock.js';
import type { DamageFound } from './look-for-damage.js';

/** The most lines from SQLite about damage that are reported. */
const mostLines = 5;

/** The thread in which SQLite checks the whole file: a single call that nothing can interrupt. */
function look(databaseFile: string): DamageFound {
  const begun = systemClock.steady();
  const seconds = (): number => (systemClock.steady() - begun) / 1e6;
  try {
    const db = openReader(databaseFile);
    try {
      const lines = db.prepare<[], { quick_check: string }>(`pragma quick_check(${mostLines})`).all().map((row) => row.quick_check);
      // A header precedes the first line.
      const told = lines.flatMap((line) => line.split('\n')).filter((line) => !line.startsWith('***'));
      return { lines: lines[0] === 'ok' ? [] : told, seconds: seconds() };
    } finally {
      db.close();
    }
  } catch (thrown) {
    return { lines: [damageMessage(thrown) ?? (thrown instanceof Error ? thrown.message : String(thrown))], seconds: seconds() };
  }
}

parentPort?.postMessage(look(workerData as string));

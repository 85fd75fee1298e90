import type { StorageHealth } from '../../ingest-port.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';
import { isStorageError, StorageUnavailable } from '../storage-error.js';
import type { StreamMemory } from './stream-memory.js';

/** Keeps track of whether storage can be written. Health answers report it, and an alarm lasts while it cannot. */
export interface HealthKeeper {
  isOk(): boolean;
  /** Throws `StorageUnavailable` if storage cannot be written. */
  demand(): void;
  /** A commit failed. */
  fail(error: Error): void;
  /** A commit succeeded. */
  succeed(): void;
  /** Reports that something in the store differs from what was written. */
  tellDamage(what: string): void;
  /** When a commit last succeeded, ms of the steady clock. */
  writtenAt(): number;
}

interface Told {
  readonly log: StreamMemory['log'];
  /** Called when storage stops or starts working. */
  readonly onHealth: (health: StorageHealth) => void;
}

const isAway = 'storage does not take writes';

export function storageHealth(alarms: ServiceAlarms, { now, steady }: Pick<FoldDeps, 'now' | 'steady'>, { log, onHealth }: Told): HealthKeeper {
  let health: StorageHealth = { ok: true, reason: null, writtenAt: null, damage: null };
  let writtenAt = 0;

  function set(next: StorageHealth): void {
    const turned = next.ok !== health.ok || next.reason !== health.reason;
    health = next;
    if (next.ok && next.damage === null) alarms.end('storage');
    else alarms.raise('storage', next.reason ?? next.damage ?? isAway);
    if (turned) log(next.ok ? 'info' : 'error', next.ok ? 'data can be stored again' : (next.reason ?? ''));
    onHealth(next);
  }

  return {
    isOk: () => health.ok,
    demand: () => {
      if (!health.ok) throw new StorageUnavailable(health.reason ?? isAway);
    },
    fail: (error) => {
      if (!isStorageError(error)) log('error', `a commit failed: ${error.stack ?? error.message}`);
      set({ ...health, ok: false, reason: `${isAway}: ${error.message}` });
    },
    succeed: () => {
      writtenAt = steady() / 1e3;
      set({ ...health, ok: true, reason: null, writtenAt: Math.floor(now() / 1e3) });
    },
    tellDamage: (what) => {
      log('error', what);
      // Health shows what was found first; the log has everything.
      if (health.damage === null) set({ ...health, damage: what });
    },
    writtenAt: () => writtenAt,
  };
}

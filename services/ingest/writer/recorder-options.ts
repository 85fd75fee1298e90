import type { CommitFacts, StorageHealth } from '../../ingest-port.js';
import type { Clock, Timers } from '../clock.js';
import type { Counters } from './counters.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import type { GoneCarriage } from './retire-carriage.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';
import type { Store } from '../store/open-store.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamMemory } from './stream-memory.js';

export interface RecorderOptions {
  readonly store: Store;
  readonly fold: Pick<FoldDeps, 'settings' | 'lateFor' | 'timeZone' | 'checkpointEvery'>;
  readonly clock: Clock & Timers;
  /** Called after the commit with what it changed. */
  readonly emit: FoldDeps['emit'];
  readonly counters: Counters;
  /** Called after every commit of messages. */
  readonly onCommit: (commit: CommitFacts) => void;
  /** Publishes a message of our own, retained or not. */
  readonly publish: (topic: string, payload: string, retain: boolean) => void;
  /** Called when storage stops or starts working; no message may be acknowledged in between. */
  readonly onHealth: (health: StorageHealth) => void;
  /** Called with carriages that were removed because they were unused. */
  readonly onGone?: (gone: GoneCarriage) => void;
  /** How many carriages may exist; more are refused. */
  readonly mostCarriages?: number;
  readonly log: StreamMemory['log'];
  /** Called after each commit: throws if what was committed cannot be found again. */
  readonly stillStored?: () => void;
}

export interface Recorder {
  take(message: IncomingMessage): void;
  /** Alarms of the service itself; the recorder raises and ends the one for unavailable storage. */
  readonly alarms: ServiceAlarms;
  /**
   * Makes a separate commit: `gather` reads what `work` needs, and `work` changes what is in memory and what is to be stored. Throws
   * `StorageUnavailable` if storage cannot be written.
   */
  change<Given, Result>(gather: (streams: StreamAccess) => Given, work: (given: Given, streams: StreamMemory) => Result): Result;
  /** Loads every carriage that may have something in progress, the most recently heard first, and brings it up to date. */
  start(): void;
  /** Reports that something in the store differs from what was written: raises an alarm that lasts until the next start. */
  tellDamage(what: string): void;
  /** Commits what waits, and stops. */
  stop(): void;
}

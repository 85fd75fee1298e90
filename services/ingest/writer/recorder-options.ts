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
  readonly fold: Pick<FoldDeps, 'settings' | 'lateFor' | 'checkpointEvery'>;
  readonly clock: Clock & Timers;
  /** Called after the commit with what it changed. */
  readonly emit: FoldDeps['emit'];
  readonly counters: Counters;
  /** Told of every commit of messages, after it. */
  readonly onCommit: (commit: CommitFacts) => void;
  /** Publishes one of our own messages, retained or not. */
  readonly publish: (topic: string, payload: string, retain: boolean) => void;
  /** Called when storage stops or starts working; no message may be acknowledged in between. */
  readonly onHealth: (health: StorageHealth) => void;
  /** Told of carriages that were forgotten by themselves. */
  readonly onGone?: (gone: GoneCarriage) => void;
  /** Carriages that may be known; more are refused. */
  readonly mostCarriages?: number;
  readonly log: StreamMemory['log'];
  /** Asked after each commit: throws where what was committed can not be found again. */
  readonly stillStored?: () => void;
}

export interface Recorder {
  take(message: IncomingMessage): void;
  /** Alarms of the service itself; that storage is away is raised and ended here. */
  readonly alarms: ServiceAlarms;
  /**
   * One commit of its own: `gather` reads what `work` needs, which changes what is in memory and what is to be stored. Throws
   * `StorageUnavailable` where storage takes no writes.
   */
  change<Given, Result>(gather: (streams: StreamAccess) => Given, work: (given: Given, streams: StreamMemory) => Result): Result;
  /** Loads every carriage that something may be under way for, those heard last first, and brings it to the present. */
  start(): void;
  /** Something in the store is other than it was written: an alarm is raised, which lasts until the next start. */
  tellDamage(what: string): void;
  /** Commits what is there and stops. */
  stop(): void;
}

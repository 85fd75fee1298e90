import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import type { CommitFacts, StorageHealth } from '../ingest-port.js';
import { advanceStreams, dropOldOfAll, isDue } from './advance-streams.js';
import type { Counters } from './counters.js';
import type { FoldDeps } from './fold-deps.js';
import { keptNumbers } from './keep-messages.js';
import type { IncomingMessage } from './mqtt/message-source.js';
import { serviceAlarms } from './service-alarms.js';
import type { ServiceAlarms } from './service-alarms.js';
import { isStorageError, StorageUnavailable } from './storage-error.js';
import { streamAccess } from './stream-access.js';
import type { StreamAccess } from './stream-access.js';
import { takeIncoming } from './take-incoming.js';

/** A commit is made this long after the first message that waits for one, or when so many wait. */
const commitAfterMs = 5;
const commitAtMessages = 2_000;
const tickMs = 50;
const probeEveryMs = 1_000;
const dropEveryMs = 15_000;

export interface RecorderOptions {
  readonly db: SqliteFile;
  readonly fold: Omit<FoldDeps, 'emit' | 'kept' | 'listeningSince'>;
  /** Called after the commit with what it changed. */
  readonly emit: FoldDeps['emit'];
  readonly counters: Counters;
  /** Told of every commit of messages, after it. */
  readonly onCommit: (commit: CommitFacts) => void;
  /** Publishes one of our own messages, retained or not. */
  readonly publish: (topic: string, payload: string, retain: boolean) => void;
  /** Called when storage stops or starts working; no message may be acknowledged in between. */
  readonly onHealth: (health: StorageHealth) => void;
  readonly log: StreamAccess['log'];
}

export interface Recorder {
  take(message: IncomingMessage): void;
  /** Alarms of the service itself; that storage is away is raised and ended here. */
  readonly alarms: ServiceAlarms;
  /** Runs work in a transaction of its own. Throws `StorageUnavailable` where storage takes no writes. */
  change<Result>(work: (streams: StreamAccess) => Result): Result;
  /** Loads every live carriage and brings it to the present. */
  start(): void;
  /** Commits what is there and stops. */
  stop(): void;
}

type Outcome<Result> = { readonly result: Result } | { readonly error: Error };

/** The one writer: takes messages, commits many at once, and only then lets their acknowledgements out. */
export function createRecorder(options: RecorderOptions): Recorder {
  const { db, counters, log } = options;
  /** What is told once the transaction at hand is committed. */
  let events: (() => void)[] = [];
  let listeningSince = options.fold.now();
  const fold: FoldDeps = {
    ...options.fold,
    kept: keptNumbers(options.fold.statements),
    listeningSince: () => listeningSince,
    emit: (event, data) => {
      events.push(() => {
        options.emit(event, data);
      });
    },
  };
  const streams = streamAccess(fold, log);
  const begin = db.prepare('begin immediate');
  const end = db.prepare('commit');
  const alarms = serviceAlarms(fold.statements, fold.now, (data) => {
    options.emit('alarm', data);
  });
  let queue: IncomingMessage[] = [];
  /** When the oldest message of the queue came, ms of the steady clock. */
  let oldest: number | null = null;
  let commitTimer: NodeJS.Timeout | null = null;
  let tickTimer: NodeJS.Timeout | null = null;
  let health: StorageHealth = { ok: true, reason: null, writtenAt: null };
  let probedAt = 0;
  let droppedAt = Date.now();

  function take(message: IncomingMessage): void {
    queue.push(message);
    oldest ??= performance.now();
    counters.set('queued', queue.length);
    if (!health.ok) return;
    if (queue.length >= commitAtMessages) commit();
    else commitTimer ??= setTimeout(commit, commitAfterMs);
  }

  function publishLater(topic: string, payload: string): void {
    events.push(() => {
      options.publish(topic, payload, true);
    });
  }

  /** One transaction. What fails leaves nothing behind: memory is built again from what is stored. */
  function transact<Result>(work: () => Result): Outcome<Result> {
    const begun = performance.now();
    let result: Result;
    events = [];
    try {
      begin.run();
      result = work();
      advanceStreams(streams, publishLater);
      if (alarms.isDue()) events.push(alarms.save());
      end.run();
    } catch (thrown) {
      // SQLite rolls back by itself after some errors, but not after all.
      if (db.isTransaction) db.exec('rollback');
      streams.forgetAll();
      return { error: thrown instanceof Error ? thrown : new Error(String(thrown)) };
    }
    counters.add('commits', 1);
    counters.add('commitMicroseconds', Math.round((performance.now() - begun) * 1e3));
    for (const event of events) event();
    return { result };
  }

  /** Commits what waits; `first` goes before it in the same transaction. */
  function commit(first: () => void = () => undefined): void {
    if (commitTimer !== null) clearTimeout(commitTimer);
    commitTimer = null;
    const batch = queue;
    if (batch.length === 0) return;
    const since = oldest ?? performance.now();
    const begun = performance.now();
    queue = [];
    const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0, unknownFields: 0 };
    const outcome = transact(() => {
      first();
      for (const message of batch) takeIncoming(message, streams, counts);
    });
    if ('error' in outcome) {
      queue = [...batch, ...queue];
      fail(outcome.error);
      return;
    }
    for (const name of ['stored', 'duplicate', 'refused', 'conflict', 'unknownFields'] as const) counters.add(name, counts[name]);
    succeed();
    for (const message of batch) message.acknowledge();
    oldest = null;
    counters.set('queued', queue.length);
    const now = performance.now();
    options.onCommit({ messages: batch.length, seconds: (now - begun) / 1e3, waited: (now - since) / 1e3 });
  }

  function probe(now: number): void {
    probedAt = now;
    const outcome = transact(() => fold.statements.probe.run(now));
    if ('error' in outcome) fail(outcome.error);
    else succeed();
  }

  /**
   * A small write first, which costs little where storage is still away; then what failed, as a whole: the small one
   * might find room where the waiting messages do not.
   */
  function tryAgain(now: number): void {
    probedAt = now;
    const small = transact(() => fold.statements.probe.run(now));
    if ('error' in small) {
      fail(small.error);
      return;
    }
    listeningSince = fold.now();
    const reload = (): void => {
      streams.loadLive();
      advanceStreams(streams, publishLater);
    };
    if (queue.length > 0) {
      commit(reload);
      return;
    }
    const outcome = transact(reload);
    if ('error' in outcome) fail(outcome.error);
    else succeed();
  }

  function tick(): void {
    const now = Date.now();
    if (!health.ok) {
      if (now - probedAt >= probeEveryMs) tryAgain(now);
      return;
    }
    if (queue.length > 0) commit();
    else if (now - Math.max(probedAt, health.writtenAt ?? 0) >= probeEveryMs) probe(now);
    else if (alarms.isDue() || now - droppedAt >= dropEveryMs || anyDue()) settle(now);
  }

  function anyDue(): boolean {
    for (const stream of streams.all.values()) if (isDue(stream, streams)) return true;
    return false;
  }

  /** What is due without any message: it says nothing of whether storage takes writes unless it fails. */
  function settle(now: number): void {
    const outcome = transact(() => {
      if (now - droppedAt < dropEveryMs) return;
      droppedAt = now;
      dropOldOfAll(streams);
    });
    if ('error' in outcome) fail(outcome.error);
  }

  function fail(error: Error): void {
    if (!isStorageError(error)) log('error', `a commit failed: ${error.stack ?? error.message}`);
    setHealth({ ok: false, reason: `storage does not take writes: ${error.message}`, writtenAt: health.writtenAt });
  }

  function succeed(): void {
    setHealth({ ok: true, reason: null, writtenAt: Date.now() });
  }

  function setHealth(next: StorageHealth): void {
    const turned = next.ok !== health.ok || next.reason !== health.reason;
    health = next;
    if (next.ok) alarms.end('storage');
    else alarms.raise('storage', next.reason ?? 'storage does not take writes');
    if (turned) log(next.ok ? 'info' : 'error', next.ok ? 'storage takes writes again' : (next.reason ?? ''));
    options.onHealth(next);
  }

  return {
    take,
    alarms,
    change: (work) => {
      if (health.ok && queue.length > 0) commit();
      if (!health.ok) throw new StorageUnavailable(health.reason ?? 'storage does not take writes');
      const outcome = transact(() => work(streams));
      if ('result' in outcome) return outcome.result;
      if (isStorageError(outcome.error)) {
        fail(outcome.error);
        throw new StorageUnavailable(outcome.error.message);
      }
      // The caller's fault: what was in memory is read again at once.
      tryAgain(Date.now());
      throw outcome.error;
    },
    start: () => {
      tryAgain(Date.now());
      tickTimer = setInterval(tick, tickMs);
    },
    stop: () => {
      if (tickTimer !== null) clearInterval(tickTimer);
      commit();
      if (!health.ok) return;
      // Records are written whole, so that the next start has nothing to tell anew.
      for (const stream of streams.all.values()) stream.flushedAt = 0;
      transact(() => undefined);
    },
  };
}

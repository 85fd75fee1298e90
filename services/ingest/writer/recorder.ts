import { emptyChangeSet } from '../../../shared/records/change-set.js';
import { orderedTraces, traceChanges } from '../../../shared/traces/trace-change.js';
import type { CallOff } from '../clock.js';
import { commitBudget } from './commit-budget.js';
import { committer } from './committer.js';
import { clockFollower } from './follow-clock.js';
import { followedClock } from './followed-clock.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { keepHouse } from './keep-house.js';
import { messageQueue } from './message-queue.js';
import { knownPasses } from '../fold/known-passes.js';
import { knownProcedures } from '../fold/known-procedures.js';
import type { IncomingMessage } from '../mqtt/message-source.js';
import type { Recorder, RecorderOptions } from './recorder-options.js';
import { settleQuiet } from './quiet-streams.js';
import { foldWaiting, isRefoldDue } from './refold-turns.js';
import { serviceAlarms } from '../alarms/service-alarms.js';
import { isStorageError, StorageUnavailable } from '../storage-error.js';
import { storageHealth } from './storage-health.js';
import { streamAccess } from './stream-access.js';
import { commitAtMessages, startBatch, takeBatch, type Batch } from './take-batch.js';
import { noteNewsAtOnce } from '../fold/outbox.js';

/** A commit is made this long after the first message that waits for one, or as soon as a commit is full. */
const commitAfterMs = 5;
const tickMs = 50;
const probeEveryMs = 1_000;
/**
 * A stop spends at most this long on folding again what waits; the rest is done at the next start. Supervisors wait some 10 s before they kill a
 * service; common practice, no source.
 */
const foldAtStopMs = 5_000;

/** The only writer: handles messages, commits many at once, and only then releases their acknowledgements. */
export function createRecorder(options: RecorderOptions): Recorder {
  const { store, counters, log, clock } = options;
  const followed = followedClock(clock);
  let listeningSince = followed.now();
  const traces = orderedTraces((change) => fold.changes.traces.push(change));
  const fold: FoldDeps = {
    ...options.fold,
    now: followed.now, steady: followed.steady, changes: emptyChangeSet(), numbers: store.numbers(),
    traces: traceChanges(traces.note), procedures: knownProcedures(), passes: knownPasses(),
    listeningSince: () => listeningSince,
    tellDamage: (what) => { health.tellDamage(what); },
    emit: (event, data) => {
      commits.tell(() => { options.emit(event, data); });
    },
  };
  const steady = (): number => fold.steady() / 1e3;
  const commits = committer(options, () => ({ streams, traces, alarms, follower, shiftListening: (by) => { listeningSince += by; } }));
  const alarms = serviceAlarms(store.serviceAlarms(), fold.now, (data) => { options.emit('alarm', data); });
  const health = storageHealth(alarms, fold, options);
  const streams = streamAccess({
    fold, store, log,
    onLimit: () => {
      alarms.raise('carriages', 'the limit of carriages is reached; messages of further ones are refused until some are removed');
    },
    mostCarriages: options.mostCarriages,
  });
  const follower = clockFollower(followed, streams, alarms);
  const house = keepHouse(streams, commits.publishLater);
  const budget = commitBudget();
  const queue = messageQueue();
  let commitLater: CallOff | null = null;
  /** Set while the rest of the waiting messages is to be committed in the next turn. */
  let again: CallOff | null = null;
  let stopTicking: CallOff = () => undefined;
  /** ms of the steady clock. */
  let probedAt = 0;

  function take(message: IncomingMessage): void {
    queue.put({ message, at: steady() });
    counters.set('queued', queue.size());
    if (!health.isOk() || again !== null) return;
    if (queue.size() >= commitAtMessages) commit();
    else commitLater ??= clock.after(commitAfterMs, commit);
  }

  /** Commits the waiting messages, as many as fit into the time of a commit. */
  function commit(): void {
    commitLater?.();
    commitLater = null;
    if (!isMore()) return;
    const begun = steady();
    const batch = startBatch();
    commits.ahead(
      () => {
        takeBatch(batch, queue, streams, budget, begun);
        budget.spent(batch.bytes, steady() - begun);
      },
      (failure) => { committed(batch, begun, failure); },
    );
    streams.refolds.pressed = isMore();
    if (streams.refolds.pressed || isRefoldDue(streams, steady())) again ??= clock.after(0, commitRest);
  }

  /** Ends a batch: only now may its messages be acknowledged. */
  function committed({ messages, counts }: Batch, begun: number, failure: Error | null): void {
    if (failure !== null) {
      queue.putBack(messages);
      health.fail(failure);
      return;
    }
    for (const name of ['stored', 'duplicate', 'refused', 'conflict', 'unknownFields'] as const) counters.add(name, counts[name]);
    health.succeed();
    let oldest = begun;
    for (const { message, at } of messages) {
      message.acknowledge();
      if (at < oldest) oldest = at;
    }
    counters.set('queued', queue.size());
    const now = steady();
    if (messages.length > 0) options.onCommit({ messages: messages.length, seconds: (now - begun) / 1e3, waited: (now - oldest) / 1e3 });
  }

  /** Whether anything waits to be handled or folded. */
  function isMore(): boolean {
    return queue.size() > 0 || streams.behind.size > 0;
  }

  function commitRest(): void {
    again = null;
    if (!health.isOk()) return;
    if (isMore()) commit();
    else if (isRefoldDue(streams, steady())) settle();
  }

  function writeProbe(): void {
    probedAt = steady();
    fold.changes.probe = Math.floor(fold.now() / 1e3);
  }

  function writeFirst(): void {
    writeProbe();
    fold.changes.newestCheckpoint = fold.now();
  }

  function probe(): void {
    const outcome = commits.now(writeProbe);
    if ('error' in outcome) health.fail(outcome.error);
    else health.succeed();
  }

  /**
   * Tries a small write first, which costs little if storage is still unavailable. Then what is in memory is read and folded, before any message is
   * handled. Last comes everything that failed, as a whole: there might be room for the small write but not for the waiting messages.
   */
  function tryAgain(): void {
    for (const work of [writeFirst, house.reload, () => undefined]) {
      const outcome = commits.now(work);
      if ('error' in outcome) {
        health.fail(outcome.error);
        return;
      }
      listeningSince = fold.now();
    }
    if (queue.size() > 0) commit();
    else health.succeed();
  }

  function tick(): void {
    const now = steady();
    if (!health.isOk()) {
      if (now - probedAt >= probeEveryMs) tryAgain();
      return;
    }
    if (queue.size() > 0) {
      if (again === null) commit();
    } else if (now - Math.max(probedAt, health.writtenAt()) >= probeEveryMs) probe();
    if (house.isDue() || follower.endIsDue() || alarms.isDue() || streams.due.isDue(fold.steady()) || isRefoldDue(streams, now)) settle();
  }

  /** Commits what is due without any message. Its success says nothing of whether storage can be written, but its failure does. */
  function settle(): void {
    const outcome = commits.now(() => {
      follower.end();
      for (const gone of house.work()) {
        commits.tell(() => {
          options.emit('carriageGone', JSON.stringify(gone));
          options.onGone?.(gone);
        });
      }
    });
    if ('error' in outcome) health.fail(outcome.error);
  }

  return {
    take,
    alarms,
    tellDamage: (what) => { health.tellDamage(what); },
    change: (gather, work) => {
      if (health.isOk() && queue.size() > 0) commit();
      health.demand();
      // Earlier messages come before the change, and are stored by the time that what it needs is read.
      const before = streams.behind.size > 0 || isRefoldDue(streams, steady()) ? commits.now(() => undefined, undefined, Infinity) : null;
      const outcome = before !== null && 'error' in before ? before : commits.now(() => work(gather(streams), streams), () => new Set());
      if ('result' in outcome) {
        if (isRefoldDue(streams, steady())) settle();
        return outcome.result;
      }
      if (isStorageError(outcome.error)) {
        health.fail(outcome.error);
        throw new StorageUnavailable(outcome.error.message);
      }
      // The caller caused the error: what was in memory is read again at once.
      tryAgain();
      throw outcome.error;
    },
    start: () => {
      tryAgain();
      stopTicking = clock.every(tickMs, tick);
    },
    stop: () => {
      stopTicking();
      while (health.isOk() && isMore()) commit();
      commits.finish();
      again?.();
      if (!health.isOk()) return;
      foldWaiting(streams, steady() + foldAtStopMs, () => 'result' in commits.now(() => undefined));
      // Records are written in full, so that the next start has nothing to publish again.
      for (const carriage of streams.all.values()) {
        if (carriage.outbox.flushAt === Infinity) continue;
        noteNewsAtOnce(carriage.outbox);
        streams.woken.add(carriage);
      }
      commits.now(() => undefined);
      commits.now(() => { settleQuiet(streams); });
    },
  };
}

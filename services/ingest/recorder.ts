import { emptyChangeSet, isEmptyChangeSet } from '../../shared/records/change-set.js';
import { orderedTraces, traceChanges } from '../../shared/traces/trace-change.js';
import type { StorageHealth } from '../ingest-port.js';
import { advanceStreams } from './advance-streams.js';
import type { CallOff } from './clock.js';
import { commitBudget, foldFor } from './commit-budget.js';
import { clockFollower } from './follow-clock.js';
import type { FoldDeps } from './fold-deps.js';
import { foldInTurn } from './fold-turns.js';
import { keepHouse } from './keep-house.js';
import { messageQueue } from './message-queue.js';
import { knownPasses } from './known-passes.js';
import { knownProcedures } from './known-procedures.js';
import type { IncomingMessage } from './mqtt/message-source.js';
import type { Recorder, RecorderOptions } from './recorder-options.js';
import { settleQuiet } from './quiet-streams.js';
import { foldWaiting, isRefoldDue, refoldInTurn } from './refold-turns.js';
import { serviceAlarms } from './service-alarms.js';
import { isStorageError, StorageUnavailable } from './storage-error.js';
import { streamAccess } from './stream-access.js';
import { gatherNewestAlarms } from './store/gather-alarms.js';
import { commitAtMessages, startBatch, takeBatch } from './take-batch.js';
import { noteNewsAtOnce } from './outbox.js';

/** A commit is made this long after the first message that waits for one, or when as many wait as fit. */
const commitAfterMs = 5;
const tickMs = 50;
const probeEveryMs = 1_000;
/** A stop folds again what waits for so long at most: what is left comes at the next start. Whoever stops a service waits some 10 s before killing it; common practice, no source. */
const foldAtStopMs = 5_000;

type Outcome<Result> = { readonly result: Result } | { readonly error: Error };

/** The one writer: takes messages, commits many at once, and only then lets their acknowledgements out. */
export function createRecorder(options: RecorderOptions): Recorder {
  const { store, counters, log, clock } = options;
  /** What is told once the transaction at hand is committed. */
  let events: (() => void)[] = [];
  let listeningSince = clock.now();
  const traces = orderedTraces((change) => fold.changes.traces.push(change));
  const fold: FoldDeps = {
    ...options.fold,
    now: clock.now,
    steady: clock.steady,
    changes: emptyChangeSet(),
    numbers: store.numbers(),
    traces: traceChanges(traces.note),
    procedures: knownProcedures(),
    passes: knownPasses(),
    listeningSince: () => listeningSince,
    tellDamage,
    emit: (event, data) => {
      events.push(() => {
        options.emit(event, data);
      });
    },
  };
  const steady = (): number => fold.steady() / 1e3;
  const alarms = serviceAlarms(store.serviceAlarms(), fold.now, (data) => {
    options.emit('alarm', data);
  });
  const streams = streamAccess({
    fold,
    store,
    log,
    onLimit: () => {
      alarms.raise('carriages', 'the limit of carriages is reached; messages of further ones are refused until some are removed');
    },
    mostCarriages: options.mostCarriages,
  });
  const follower = clockFollower(streams, alarms);
  const house = keepHouse(streams, publishLater);
  const budget = commitBudget();
  const queue = messageQueue();
  let commitLater: CallOff | null = null;
  /** Set while the rest of what waits is to be committed in the next turn. */
  let again: CallOff | null = null;
  let stopTicking: CallOff = () => undefined;
  let health: StorageHealth = { ok: true, reason: null, writtenAt: null, damage: null };
  // All of these by the steady clock, ms.
  let wroteAt = 0;
  let probedAt = 0;

  function take(message: IncomingMessage): void {
    queue.put({ message, at: steady() });
    counters.set('queued', queue.size());
    if (!health.ok || again !== null) return;
    if (queue.size() >= commitAtMessages) commit();
    else commitLater ??= clock.after(commitAfterMs, commit);
  }

  function publishLater(topic: string, payload: string): void {
    events.push(() => {
      options.publish(topic, payload, true);
    });
  }

  /**
   * One commit: what is to be folded again is, from the store as the last one left it, then `work` is done and whatever is due; what that
   * changes is stored at its end. What fails leaves nothing behind: memory is built again from what is stored.
   */
  function transact<Result>(work: () => Result, refolds = refoldInTurn): Outcome<Result> {
    const begun = steady();
    let result: Result;
    events = [];
    fold.changes = emptyChangeSet();
    try {
      listeningSince += follower.follow();
      gatherNewestAlarms(streams);
      const foldedAgain = refolds(streams, steady());
      result = work();
      advanceStreams(streams, publishLater, foldFor, foldedAgain);
      if (alarms.isDue()) events.push(alarms.save(fold.changes));
      if (!isEmptyChangeSet(fold.changes)) store.writer.apply(fold.changes);
      options.stillStored?.();
    } catch (thrown) {
      streams.forgetAll();
      traces.forgetAll();
      return { error: thrown instanceof Error ? thrown : new Error(String(thrown)) };
    }
    counters.add('commits', 1);
    counters.add('commitMicroseconds', Math.round((steady() - begun) * 1e3));
    for (const event of events) event();
    return { result };
  }

  /** Commits what waits, as much of it as fits into the time of a commit. */
  function commit(): void {
    commitLater?.();
    commitLater = null;
    if (!isMore()) return;
    const begun = steady();
    const batch = startBatch();
    const { messages, counts } = batch;
    let taking = 0;
    const outcome = transact(() => {
      takeBatch(batch, queue, streams, budget, begun);
      taking = steady() - begun;
    });
    if ('error' in outcome) {
      queue.putBack(messages);
      fail(outcome.error);
      return;
    }
    budget.spent(batch.bytes, taking);
    for (const name of ['stored', 'duplicate', 'refused', 'conflict', 'unknownFields'] as const) counters.add(name, counts[name]);
    succeed();
    let oldest = begun;
    for (const { message, at } of messages) {
      message.acknowledge();
      if (at < oldest) oldest = at;
    }
    counters.set('queued', queue.size());
    const now = steady();
    if (messages.length > 0) options.onCommit({ messages: messages.length, seconds: (now - begun) / 1e3, waited: (now - oldest) / 1e3 });
    streams.refolds.pressed = isMore();
    if (streams.refolds.pressed || isRefoldDue(streams, steady())) again ??= clock.after(0, commitRest);
  }

  /** Whether anything waits to be taken or folded. */
  function isMore(): boolean {
    return queue.size() > 0 || streams.behind.size > 0;
  }

  function commitRest(): void {
    again = null;
    if (!health.ok) return;
    if (isMore()) commit();
    else if (isRefoldDue(streams, steady())) settle();
  }

  function writeProbe(): void {
    probedAt = steady();
    fold.changes.probe = Math.floor(fold.now() / 1e3);
  }

  function probe(): void {
    const outcome = transact(writeProbe);
    if ('error' in outcome) fail(outcome.error);
    else succeed();
  }

  /**
   * A small write first, which costs little where storage is still away; then what is in memory is read, and folded before anything is
   * taken; then what failed, as a whole: the small one might find room where the waiting messages do not.
   */
  function tryAgain(): void {
    for (const work of [writeProbe, house.reload, () => undefined]) {
      const outcome = transact(work);
      if ('error' in outcome) {
        fail(outcome.error);
        return;
      }
      listeningSince = fold.now();
    }
    if (queue.size() > 0) commit();
    else succeed();
  }

  function tick(): void {
    const now = steady();
    if (!health.ok) {
      if (now - probedAt >= probeEveryMs) tryAgain();
      return;
    }
    if (queue.size() > 0) {
      if (again === null) commit();
    } else if (now - Math.max(probedAt, wroteAt) >= probeEveryMs) probe();
    if (house.isDue() || follower.endIsDue() || alarms.isDue() || streams.due.isDue(fold.steady()) || isRefoldDue(streams, now)) settle();
  }

  /** What is due without any message: it says nothing of whether storage takes writes unless it fails. */
  function settle(): void {
    const outcome = transact(() => {
      follower.end();
      for (const gone of house.work()) {
        events.push(() => {
          options.emit('carriageGone', JSON.stringify(gone));
          options.onGone?.(gone);
        });
      }
    });
    if ('error' in outcome) fail(outcome.error);
  }

  function fail(error: Error): void {
    if (!isStorageError(error)) log('error', `a commit failed: ${error.stack ?? error.message}`);
    setHealth({ ok: false, reason: `storage does not take writes: ${error.message}`, writtenAt: health.writtenAt, damage: health.damage });
  }

  function succeed(): void {
    wroteAt = steady();
    setHealth({ ok: true, reason: null, writtenAt: Math.floor(fold.now() / 1e3), damage: health.damage });
  }

  /** What was found first is what people are told; the log has all. */
  function tellDamage(what: string): void {
    log('error', what);
    if (health.damage === null) setHealth({ ...health, damage: what });
  }

  function setHealth(next: StorageHealth): void {
    const turned = next.ok !== health.ok || next.reason !== health.reason;
    health = next;
    if (next.ok && next.damage === null) alarms.end('storage');
    else alarms.raise('storage', next.reason ?? next.damage ?? 'storage does not take writes');
    if (turned) log(next.ok ? 'info' : 'error', next.ok ? 'data can be stored again' : (next.reason ?? ''));
    options.onHealth(next);
  }

  return {
    take,
    alarms,
    tellDamage,
    change: (gather, work) => {
      if (health.ok && queue.size() > 0) commit();
      if (!health.ok) throw new StorageUnavailable(health.reason ?? 'storage does not take writes');
      // What was taken before comes before it, and is stored by the time that what it needs is read.
      const before = streams.behind.size > 0 || isRefoldDue(streams, steady()) ? transact(() => foldInTurn(streams, Infinity)) : null;
      const outcome = before !== null && 'error' in before ? before : transact(() => work(gather(streams), streams), () => new Set());
      if ('result' in outcome) {
        if (isRefoldDue(streams, steady())) settle();
        return outcome.result;
      }
      if (isStorageError(outcome.error)) {
        fail(outcome.error);
        throw new StorageUnavailable(outcome.error.message);
      }
      // The caller's fault: what was in memory is read again at once.
      tryAgain();
      throw outcome.error;
    },
    start: () => {
      store.clampCheckpoints(fold.now());
      tryAgain();
      stopTicking = clock.every(tickMs, tick);
    },
    stop: () => {
      stopTicking();
      while (health.ok && isMore()) commit();
      again?.();
      if (!health.ok) return;
      foldWaiting(streams, steady() + foldAtStopMs, () => 'result' in transact(() => undefined));
      // Records are written whole, so that the next start has nothing to tell anew.
      for (const carriage of streams.all.values()) {
        if (carriage.outbox.flushAt === Infinity) continue;
        noteNewsAtOnce(carriage.outbox);
        streams.woken.add(carriage);
      }
      transact(() => undefined);
      transact(() => {
        settleQuiet(streams);
      });
    },
  };
}

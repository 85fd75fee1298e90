import type { Database as Connection } from 'better-sqlite3';
import { decodeAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../shared/weld/decode/decode-senml.js';
import { parseTopic } from '../../shared/weld/decode/decode-topic.js';
import type { DecodedMessage } from '../../shared/weld/decode/decoded.js';
import { storedMark } from '../../shared/weld/seq-marks.js';
import type { StorageHealth } from '../ingest-port.js';
import { assignStream } from './assign-stream.js';
import type { Counters } from './counters.js';
import { flushStream, hasEnded } from './flush-stream.js';
import type { FoldDeps } from './fold-deps.js';
import { dropOld, foldFresh, refold } from './fold-stream.js';
import type { IncomingMessage } from './mqtt/message-source.js';
import { loadStream } from './stream-load.js';
import type { StreamState } from './stream-state.js';
import { tellCarriage } from './tell-carriage.js';
import { takeMessage } from './take-items.js';
import type { TakenCounts } from './take-items.js';

/** A commit is made this long after the first message that waits for one, or when so many wait. */
const commitAfterMs = 5;
const commitAtMessages = 2_000;
/** How often live figures are told, and records written, while a carriage sends, ms. */
const tellEveryMs = 200;
const flushEveryMs = 1_000;
const storedEveryMs = 1_000;
const tickMs = 50;
const probeEveryMs = 1_000;
const dropEveryMs = 15_000;
const dropAtMost = 2_000;
/** Refused entries kept: the newest. */
const refusedKept = 100_000;
/** Boots named in the `stored` topic. */
const storedBoots = 4;

export interface RecorderOptions {
  readonly db: Connection;
  readonly fold: Omit<FoldDeps, 'emit'>;
  /** Called after the commit with what it changed. */
  readonly emit: FoldDeps['emit'];
  readonly counters: Counters;
  /** Publishes one of our own messages, retained or not. */
  readonly publish: (topic: string, payload: string, retain: boolean) => void;
  /** Called when storage stops or starts working; no message may be acknowledged in between. */
  readonly onHealth: (health: StorageHealth) => void;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
}

export interface Recorder {
  take(message: IncomingMessage): void;
  /** Runs work in a transaction of its own; rejects with the storage's error where it fails. */
  change<Result>(work: (streams: StreamAccess) => Result): Result;
  /** Loads every live carriage and brings it to the present. */
  start(): void;
  /** Commits what is there and stops. */
  stop(): void;
}

export interface StreamAccess {
  readonly fold: FoldDeps;
  stream(site: string, carriage: string, stream: string): StreamState;
  forget(stream: StreamState): void;
  /** Folds what was taken and writes the records, now. */
  finish(stream: StreamState): void;
}

/** The one writer: takes messages, commits many at once, and only then lets their acknowledgements out. */
export function createRecorder(options: RecorderOptions): Recorder {
  const { db, counters, publish, log } = options;
  const fold: FoldDeps = {
    ...options.fold,
    emit: (event, data) => {
      events.push(() => {
        options.emit(event, data);
      });
    },
  };
  const { statements } = fold;
  const streams = new Map<string, StreamState>();
  let queue: IncomingMessage[] = [];
  let commitTimer: NodeJS.Timeout | null = null;
  let tickTimer: NodeJS.Timeout | null = null;
  let health: StorageHealth = { ok: true, reason: null, writtenAt: null };
  let probedAt = 0;
  let droppedAt = 0;
  let events: (() => void)[] = [];

  const access: StreamAccess = {
    fold,
    finish: (state) => {
      foldFresh(state, fold);
      refold(state, fold);
      flushStream(state, fold);
    },
    stream: (site, carriage, stream) => {
      const key = `${site}/${carriage}/${stream}`;
      let state = streams.get(key);
      if (state === undefined) {
        state = loadStream(statements, site, carriage, stream);
        if (state.runs.size > 0 || statements.keptFrom.get(state.id, 0) !== undefined) state.dirtyFrom = 'latest';
        streams.set(key, state);
      }
      return state;
    },
    forget: (state) => streams.delete(`${state.site}/${state.carriage}/${state.stream}`),
  };

  function take(message: IncomingMessage): void {
    queue.push(message);
    if (!health.ok) return;
    if (queue.length >= commitAtMessages) commit();
    else commitTimer ??= setTimeout(commit, commitAfterMs);
  }

  /** One transaction. What fails leaves nothing behind: memory is built again from what is stored. */
  function transact<Result>(work: () => Result): { readonly result: Result } | { readonly error: Error } {
    const begun = performance.now();
    events = [];
    try {
      db.exec('begin immediate');
      const result = work();
      advance();
      db.exec('commit');
      counters.add('commits', 1);
      counters.add('commitMicroseconds', Math.round((performance.now() - begun) * 1e3));
      setHealth({ ok: true, reason: null, writtenAt: Date.now() });
      for (const event of events) event();
      return { result };
    } catch (thrown) {
      const error = thrown instanceof Error ? thrown : new Error(String(thrown));
      if (db.inTransaction) {
        try {
          db.exec('rollback');
        } catch {
          // SQLite has rolled back by itself.
        }
      }
      streams.clear();
      return { error };
    }
  }

  function commit(): void {
    if (commitTimer !== null) clearTimeout(commitTimer);
    commitTimer = null;
    const batch = queue;
    if (batch.length === 0) return;
    queue = [];
    const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0, unknownFields: 0 };
    const outcome = transact(() => {
      for (const message of batch) takeSafely(message, counts);
    });
    if ('error' in outcome) {
      queue = [...batch, ...queue];
      fail(outcome.error);
      return;
    }
    counters.add('stored', counts.stored);
    counters.add('duplicate', counts.duplicate);
    counters.add('refused', counts.refused);
    counters.add('conflict', counts.conflict);
    counters.add('unknownFields', counts.unknownFields);
    for (const message of batch) message.acknowledge();
  }

  /** A message that this program can not cope with is refused like any other, and holds up nobody. */
  function takeSafely(message: IncomingMessage, counts: TakenCounts & { unknownFields: number }): void {
    try {
      takeOne(message, counts);
    } catch (thrown) {
      if (isStorageError(thrown)) throw thrown;
      const reason = `an error of the program: ${thrown instanceof Error ? thrown.message : String(thrown)}`;
      log('error', `${message.topic}: ${thrown instanceof Error ? (thrown.stack ?? reason) : reason}`);
      counts.refused += 1;
      statements.refuse.run(fold.now(), message.topic, reason, message.payload.length, Buffer.from(message.payload.subarray(0, 256)));
    }
  }

  function takeOne(message: IncomingMessage, counts: TakenCounts & { unknownFields: number }): void {
    const arrived = fold.now();
    const refuse = (reason: string): void => {
      counts.refused += 1;
      statements.refuse.run(arrived, message.topic, reason, message.payload.length, Buffer.from(message.payload.subarray(0, 256)));
    };
    const topic = parseTopic(message.topic);
    if ('reason' in topic) {
      refuse(topic.reason);
      return;
    }
    const stream = access.stream(topic.site, topic.carriage, '');
    if (topic.kind === 'readings' || topic.kind === 'senml') {
      if (message.retained) {
        refuse(`a retained message on ${topic.kind}; ${topic.kind} are taken as they are sent, not kept by the broker`);
        return;
      }
      const decoded: DecodedMessage = topic.kind === 'senml' ? decodeSenml(message.payload, arrived) : decodeReadings(message.payload);
      const own = takeMessage(stream, { topic: message.topic, kind: topic.kind, payload: message.payload, arrived }, decoded, { statements, lateFor: fold.lateFor });
      counts.stored += own.stored;
      counts.duplicate += own.duplicate;
      counts.refused += own.refused;
      counts.conflict += own.conflict;
      counts.unknownFields += decoded.unknownFields;
    } else if (topic.kind === 'assignment') {
      const decoded = decodeAssignment(message.payload);
      if (decoded.kind === 'refused') refuse(decoded.reason);
      else takeAssignment(stream, decoded);
    } else {
      const text = Buffer.from(message.payload).toString('utf8');
      if (text === 'online' || text === 'offline' || text === '') {
        stream.online = text === 'online';
        stream.unflushed = true;
      } else {
        refuse(`status: got ${JSON.stringify(text.slice(0, 64))}; taken: online or offline`);
      }
    }
  }

  function takeAssignment(stream: StreamState, decoded: Exclude<ReturnType<typeof decodeAssignment>, { kind: 'refused' }>): void {
    // What came before belongs to the one before, so it has to be folded first.
    guard(stream, () => {
      foldFresh(stream, fold);
      if (decoded.kind === 'end') assignStream(stream, null, decoded.time, fold);
      else assignStream(stream, decoded.assignment, decoded.assignment.time ?? null, fold);
    });
  }

  /** Everything that is due, within the transaction at hand. */
  function advance(): void {
    const now = Date.now();
    for (const stream of streams.values()) {
      guard(stream, () => {
        foldFresh(stream, fold);
        if (stream.dirtyFrom !== null && (performance.now() - stream.refoldedAt >= 4 * stream.refoldCost || stream.refoldedAt === 0)) refold(stream, fold);
        if (stream.dirtyFrom !== null) return;
        if (!stream.unflushed && endedMeanwhile(stream)) stream.unflushed = true;
        if (!stream.unflushed) return;
        if (now - stream.flushedAt >= flushEveryMs || beganOrEnded(stream)) flushStream(stream, fold);
        else if (now - stream.toldAt >= tellEveryMs) tellCarriage(stream, fold);
      });
      saveMarks(stream);
      publishStored(stream, now);
    }
    if (now - droppedAt >= dropEveryMs) {
      droppedAt = now;
      for (const stream of streams.values()) guard(stream, () => {
        dropOld(stream, fold, dropAtMost);
      });
      statements.trimRefused.run(refusedKept);
    }
  }

  /** An error in one carriage's computation must not keep anything from being stored. */
  function guard(stream: StreamState, work: () => void): void {
    if (stream.fault !== null) return;
    try {
      work();
    } catch (thrown) {
      if (isStorageError(thrown)) throw thrown;
      stream.fault = thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown);
      log('error', `${stream.site}/${stream.carriage}: items are kept, but no figures are computed until the next start: ${stream.fault}`);
    }
  }

  /** Runs that begin or end are told at once. */
  function beganOrEnded(stream: StreamState): boolean {
    const run = stream.live.head.merge.run;
    return stream.finishedRuns.size > 0 || (run?.ordinal ?? null) !== (stream.open?.ordinal ?? null) || (run !== null && run.epoch < stream.timeline.length - 1 && endedMeanwhile(stream));
  }

  function endedMeanwhile(stream: StreamState): boolean {
    const { open } = stream;
    if (open === null) return false;
    const entry = stream.runs.get(open.ordinal);
    return entry !== undefined && entry.finished === null && hasEnded(stream, open, open.newest, fold);
  }

  function saveMarks(stream: StreamState): void {
    for (const boot of stream.boots.values()) {
      if (!boot.changed) continue;
      boot.changed = false;
      statements.markBoot.run(JSON.stringify(boot.marks), boot.id);
    }
  }

  /** The mark goes out after the commit, and only once the figures hold what it says. */
  function publishStored(stream: StreamState, now: number): void {
    if (!stream.storedChanged || stream.stream !== '' || now - stream.storedAt < storedEveryMs) return;
    if (stream.fault === null && (stream.dirtyFrom !== null || stream.unflushed)) return;
    stream.storedChanged = false;
    stream.storedAt = now;
    const boots = stream.storedBoots.slice(-storedBoots).flatMap((name) => {
      const boot = stream.boots.get(name);
      const mark = boot === undefined ? null : storedMark(boot.marks.any);
      return mark === null ? [] : [{ boot: name, ...mark }];
    });
    const payload = JSON.stringify({ boots });
    events.push(() => {
      publish(`weld/${stream.site}/${stream.carriage}/stored`, payload, true);
    });
  }

  function tick(): void {
    const now = Date.now();
    if (!health.ok) {
      if (now - probedAt < probeEveryMs) return;
      probedAt = now;
      const outcome = transact(() => statements.probe.run(now));
      if ('error' in outcome) fail(outcome.error);
      else {
        loadAll();
        commit();
      }
      return;
    }
    if (queue.length > 0) {
      commit();
      return;
    }
    const probe = now - Math.max(probedAt, health.writtenAt ?? 0) >= probeEveryMs;
    if (!probe && ![...streams.values()].some((stream) => isDue(stream, now))) return;
    if (probe) probedAt = now;
    const outcome = transact(() => (probe ? statements.probe.run(now) : undefined));
    if ('error' in outcome) fail(outcome.error);
  }

  function isDue(stream: StreamState, now: number): boolean {
    if (stream.fault === null && stream.dirtyFrom !== null) return performance.now() - stream.refoldedAt >= 4 * stream.refoldCost;
    if (stream.fault === null && stream.unflushed) return now - stream.toldAt >= tellEveryMs;
    return (stream.storedChanged && stream.stream === '' && now - stream.storedAt >= storedEveryMs) || endedMeanwhile(stream);
  }

  function fail(error: Error): void {
    if (!isStorageError(error)) log('error', `a commit failed: ${error.stack ?? error.message}`);
    setHealth({ ok: false, reason: `storage does not take writes: ${error.message}`, writtenAt: health.writtenAt });
  }

  function setHealth(next: StorageHealth): void {
    const turned = next.ok !== health.ok || next.reason !== health.reason;
    health = next;
    if (turned) log(next.ok ? 'info' : 'error', next.ok ? 'storage takes writes again' : (next.reason ?? ''));
    options.onHealth(next);
  }

  function loadAll(): void {
    const outcome = transact(() => {
      for (const row of statements.liveStreams.all()) access.stream(row.site, row.carriage, row.stream);
    });
    if ('error' in outcome) fail(outcome.error);
  }

  return {
    take,
    change: (work) => {
      if (!health.ok) throw new StorageUnavailable(health.reason ?? 'storage does not take writes');
      if (queue.length > 0) commit();
      const outcome = transact(() => work(access));
      if ('result' in outcome) return outcome.result;
      if (isStorageError(outcome.error)) {
        fail(outcome.error);
        throw new StorageUnavailable(outcome.error.message);
      }
      loadAll();
      throw outcome.error;
    },
    start: () => {
      loadAll();
      tickTimer = setInterval(tick, tickMs);
    },
    stop: () => {
      if (tickTimer !== null) clearInterval(tickTimer);
      commit();
      if (!health.ok) return;
      for (const stream of streams.values()) stream.flushedAt = 0;
      transact(() => undefined);
    },
  };
}

/** The store can not take writes at present. */
export class StorageUnavailable extends Error {}

export function isStorageError(thrown: unknown): boolean {
  return thrown instanceof Error && 'code' in thrown && typeof thrown.code === 'string' && thrown.code.startsWith('SQLITE_') && !thrown.code.startsWith('SQLITE_CONSTRAINT') && thrown.code !== 'SQLITE_ERROR' && thrown.code !== 'SQLITE_MISMATCH';
}

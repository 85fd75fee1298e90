import type { TopicKind } from '../../shared/weld/decode/decode-topic.js';
import { parseTopic, topicKinds } from '../../shared/weld/decode/decode-topic.js';
import { sizeProblem } from '../../shared/weld/decode/parse-json.js';
import { openCheckpoints } from './checkpoints.js';
import { flushStream } from './flush-stream.js';
import type { FoldDeps } from './fold-deps.js';
import { foldFresh, refold } from './fold-stream.js';
import { guardStream, tellFault } from './guard-stream.js';
import { oldestKept, writeKept } from './keep-messages.js';
import { loadStream } from './stream-load.js';
import type { RefoldPace } from './refold-turns.js';
import type { StreamState } from './stream-state.js';

/** Carriages that may be known at a time: whoever reaches the broker can make them, and each costs memory for as long as it is known. */
export const mostCarriages = 10_000;

/** What a topic that carriages send on is for. */
export interface Addressed {
  readonly kind: TopicKind;
  readonly stream: StreamState;
}

/** The carriages and logs that are in memory. */
export interface StreamAccess {
  readonly fold: FoldDeps;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
  readonly all: ReadonlyMap<string, StreamState>;
  /** Those for which something is or may become due; all others are left out of commits. */
  readonly active: Set<StreamState>;
  /** Carriages, as topics name them without their kind, that have taken more than was folded. */
  readonly behind: Set<string>;
  readonly refolds: RefoldPace;
  /** The stream of that name, read from the store where it is not in memory yet, and made where it is new. Throws where there are too many carriages. */
  stream(site: string, carriage: string, stream: string): StreamState;
  /** The kind and the carriage's stream of a topic, or in words why it is none; no words where there is nothing to refuse. An empty message makes no carriage. */
  ofTopic(topic: string, empty?: boolean): Addressed | { readonly reason: string };
  /** A message of the carriage's has come, or one is meant for it: if it had been retired, it is there again. */
  hear(stream: StreamState): void;
  /** Notes which carriages have to be read after a start. */
  loadLive(): void;
  /** Reads of those until `end`, ms of `performance.now()`; whether there are more. */
  loadMore(end: number): boolean;
  forget(stream: StreamState): void;
  /** Carriages have come or gone. */
  countAgain(): void;
  /** After a failed transaction memory may be ahead of the store. */
  forgetAll(): void;
  /** Folds what was taken and writes the records, now. */
  finish(stream: StreamState): void;
}

export function streamAccess(fold: FoldDeps, log: StreamAccess['log'], onLimit: () => void = () => undefined, most = mostCarriages): StreamAccess {
  const { statements } = fold;
  const streams = new Map<string, StreamState>();
  const active = new Set<StreamState>();
  const behind = new Set<string>();
  // A few for each stream in memory: topics that were refused are not among them.
  const topics = new Map<string, Addressed>();
  let carriages: number | null = null;
  let toLoad: { readonly site: string; readonly carriage: string }[] = [];
  const keyOf = (site: string, carriage: string, stream: string): string => `${site}/${carriage}/${stream}`;

  /** Whether one more may be made. */
  function isRoom(): boolean {
    carriages ??= statements.countCarriages.get()?.count ?? 0;
    if (carriages < most) return true;
    onLimit();
    return false;
  }

  function load(site: string, carriage: string, stream: string): StreamState {
    if (stream === '' && statements.findStream.get(site, carriage, stream) === undefined) {
      if (!isRoom()) throw new Error(limitReason(most));
      carriages = (carriages ?? 0) + 1;
    }
    const state = loadStream(statements, site, carriage, stream, fold.now(), (what) => {
      tellFault(site, carriage, what, access);
    });
    guardStream(state, access, () => {
      openCheckpoints(state, fold);
    });
    // Of an imported log nothing is kept that could be folded again: its rows are what there is.
    if ((stream === '' && state.runs.size > 0) || oldestKept(state, statements) !== undefined) state.dirtyFrom = 'latest';
    else state.refoldedAt = fold.steady() / 1e3;
    // Known, but not told by a program of today.
    if (state.snapshot === null && (state.lastSeen !== null || state.online !== null || state.timeline.length > 0)) state.unflushed = true;
    streams.set(keyOf(site, carriage, stream), state);
    return state;
  }

  function touch(state: StreamState): StreamState {
    state.touchedAt = fold.steady();
    active.add(state);
    return state;
  }

  const access: StreamAccess = {
    fold,
    log,
    all: streams,
    active,
    behind,
    refolds: { freeAt: 0, pressed: false },
    stream: (site, carriage, stream) => {
      const known = streams.get(keyOf(site, carriage, stream));
      if (known !== undefined) return touch(known);
      const state = touch(load(site, carriage, stream));
      // What comes now must not be taken for something that lies before all that is kept.
      guardStream(state, access, () => {
        refold(state, fold);
      });
      return state;
    },
    ofTopic: (topic, empty = false) => {
      const known = topics.get(topic);
      if (known !== undefined) {
        touch(known.stream);
        return known;
      }
      const parsed = parseTopic(topic);
      if ('reason' in parsed) return parsed;
      const { site, carriage } = parsed;
      const isKnown = streams.has(keyOf(site, carriage, '')) || statements.findStream.get(site, carriage, '') !== undefined;
      if (!isKnown && empty) return { reason: takesBack(parsed.kind) ? '' : emptyReason };
      if (!isKnown && !isRoom()) return { reason: limitReason(most) };
      const addressed = { kind: parsed.kind, stream: access.stream(site, carriage, '') };
      topics.set(topic, addressed);
      return addressed;
    },
    hear: (state) => {
      state.messageAt = fold.now();
      if (!state.retired) return;
      state.retired = false;
      state.unflushed = true;
      state.flushedAt = 0;
      carriages = null;
    },
    loadLive: () => {
      toLoad = statements.unsettledStreams.all().reverse();
    },
    loadMore: (end) => {
      while (toLoad.length > 0 && performance.now() < end) {
        const next = toLoad.pop();
        if (next !== undefined && !streams.has(keyOf(next.site, next.carriage, ''))) touch(load(next.site, next.carriage, ''));
      }
      return toLoad.length > 0;
    },
    forget: (state) => {
      writeKept(state, statements);
      for (const kind of topicKinds) topics.delete(`weld/${state.site}/${state.carriage}/${kind}`);
      active.delete(state);
      streams.delete(keyOf(state.site, state.carriage, state.stream));
    },
    countAgain: () => {
      carriages = null;
    },
    forgetAll: () => {
      carriages = null;
      streams.clear();
      active.clear();
      behind.clear();
      topics.clear();
    },
    finish: (state) => {
      foldFresh(state, fold);
      refold(state, fold);
      flushStream(state, fold);
      // It may have shown a run that goes on behind rows that were cut.
      for (let again = 0; again < 3 && state.dirtyFrom !== null; again += 1) {
        refold(state, fold);
        flushStream(state, fold);
      }
    },
  };
  return access;
}

const emptyReason = sizeProblem(new Uint8Array()) ?? '';

/** Whether an empty message of that kind takes back what was retained; readings are none of that. */
export function takesBack(kind: TopicKind): boolean {
  return kind === 'assignment' || kind === 'status';
}

function limitReason(most: number): string {
  return `there are ${most} carriages already, and no more are accepted; remove those that are no longer in use: DELETE /api/carriages/SITE/CARRIAGE`;
}

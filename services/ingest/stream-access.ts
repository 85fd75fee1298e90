import type { TopicKind } from '../../shared/weld/decode/decode-topic.js';
import { parseTopic } from '../../shared/weld/decode/decode-topic.js';
import { openCheckpoints } from './checkpoints.js';
import { flushStream } from './flush-stream.js';
import type { FoldDeps } from './fold-deps.js';
import { foldFresh, refold } from './fold-stream.js';
import { oldestKept, writeKept } from './keep-messages.js';
import { loadStream } from './stream-load.js';
import type { StreamState } from './stream-state.js';

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
  /** The stream of that name, read from the store where it is not in memory yet, and made where it is new. */
  stream(site: string, carriage: string, stream: string): StreamState;
  /** The kind and the carriage's stream of a topic, or in words why it is none. */
  ofTopic(topic: string): Addressed | { readonly reason: string };
  /** Reads every live carriage. */
  loadLive(): void;
  forget(stream: StreamState): void;
  /** After a failed transaction memory may be ahead of the store. */
  forgetAll(): void;
  /** Folds what was taken and writes the records, now. */
  finish(stream: StreamState): void;
}

export function streamAccess(fold: FoldDeps, log: StreamAccess['log']): StreamAccess {
  const { statements } = fold;
  const streams = new Map<string, StreamState>();
  // A few for each stream in memory: topics that were refused are not among them.
  const topics = new Map<string, Addressed>();
  const keyOf = (site: string, carriage: string, stream: string): string => `${site}/${carriage}/${stream}`;
  const access: StreamAccess = {
    fold,
    log,
    all: streams,
    stream: (site, carriage, stream) => {
      const key = keyOf(site, carriage, stream);
      let state = streams.get(key);
      if (state === undefined) {
        state = loadStream(statements, site, carriage, stream);
        openCheckpoints(state, fold);
        if (state.runs.size > 0 || oldestKept(state, statements) !== undefined) state.dirtyFrom = 'latest';
        // Known, but not told by a program of today.
        if (state.snapshot === null && (state.lastSeen !== null || state.online !== null || state.timeline.length > 0)) state.unflushed = true;
        streams.set(key, state);
      }
      return state;
    },
    ofTopic: (topic) => {
      const known = topics.get(topic);
      if (known !== undefined) return known;
      const parsed = parseTopic(topic);
      if ('reason' in parsed) return parsed;
      const addressed = { kind: parsed.kind, stream: access.stream(parsed.site, parsed.carriage, '') };
      topics.set(topic, addressed);
      return addressed;
    },
    loadLive: () => {
      for (const row of statements.liveStreams.all()) access.stream(row.site, row.carriage, row.stream);
    },
    forget: (state) => {
      writeKept(state, statements);
      topics.clear();
      streams.delete(keyOf(state.site, state.carriage, state.stream));
    },
    forgetAll: () => {
      streams.clear();
      topics.clear();
    },
    finish: (state) => {
      foldFresh(state, fold);
      refold(state, fold);
      flushStream(state, fold);
    },
  };
  return access;
}

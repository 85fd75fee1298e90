import type { TopicKind } from '../../shared/weld/decode/decode-topic.js';
import { topicKinds } from '../../shared/weld/decode/decode-topic.js';
import type { FoldDeps } from './fold-deps.js';
import { saveMarks } from './keep-marks.js';
import { writeKept } from './keep-messages.js';
import type { RefoldPace } from './refold-pace.js';
import type { StreamState } from './stream-state.js';
import { noteNewsAtOnce } from './stream-news.js';

/** What a topic that carriages send on is for. */
export interface Addressed {
  readonly kind: TopicKind;
  readonly stream: StreamState;
}

/** The carriages and logs that are in memory. */
export interface StreamMemory {
  readonly fold: FoldDeps;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
  readonly all: Map<string, StreamState>;
  /** Those for which something is or may become due; all others are left out of commits. */
  readonly active: Set<StreamState>;
  /** Carriages, as topics name them without their kind, that have taken more than was folded. */
  readonly behind: Set<string>;
  /** What topics are for, as far as that was asked: a few for each stream in memory. Topics that were refused are not among them. */
  readonly topics: Map<string, Addressed>;
  readonly refolds: RefoldPace;
  /** How many carriages are known, retired ones not counted; null where that has to be counted. */
  carriages: number | null;
  /** A message of the carriage's has come, or one is meant for it: if it had been retired, it is there again. */
  hear(stream: StreamState): void;
  forget(stream: StreamState): void;
  /** After a failed commit memory may be ahead of the store. */
  forgetAll(): void;
}

export function keyOf(site: string, carriage: string, stream: string): string {
  return `${site}/${carriage}/${stream}`;
}

/** Whether an empty message of that kind takes back what was retained; readings are none of that. */
export function takesBack(kind: string): boolean {
  return kind === 'assignment' || kind === 'status';
}

export function streamMemory(fold: FoldDeps, log: StreamMemory['log']): StreamMemory {
  const memory: StreamMemory = {
    fold,
    log,
    all: new Map(),
    active: new Set(),
    behind: new Set(),
    topics: new Map(),
    refolds: { freeAt: 0, pressed: false },
    carriages: null,
    hear: (state) => {
      state.messageAt = fold.now();
      if (!state.retired) return;
      state.retired = false;
      noteNewsAtOnce(state);
      memory.carriages = null;
    },
    forget: (state) => {
      const { site, carriage, stream } = state;
      writeKept(state, fold.changes);
      saveMarks(state, fold);
      for (const kind of topicKinds) memory.topics.delete(`weld/${site}/${carriage}/${kind}`);
      memory.active.delete(state);
      memory.all.delete(keyOf(site, carriage, stream));
    },
    forgetAll: () => {
      memory.carriages = null;
      for (const held of [memory.all, memory.active, memory.behind, memory.topics]) held.clear();
      fold.procedures.forgetAll();
      fold.passes.forgetAll();
    },
  };
  return memory;
}

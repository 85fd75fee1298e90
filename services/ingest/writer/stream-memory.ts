import { topicKinds, type TopicKind } from '../../../shared/weld/decode/decode-topic.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { saveMarks } from '../fold/keep-marks.js';
import { writeMessageLog } from '../fold/message-log.js';
import type { RefoldPace } from './refold-pace.js';
import { topicOf, type Carriage } from '../fold/carriage.js';
import { dueQueue, type DueQueue } from './due-queue.js';
import { noteNewsAtOnce } from '../fold/outbox.js';

/** What a topic that carriages send on is for. */
export interface Addressed {
  readonly kind: TopicKind;
  readonly carriage: Carriage;
}

/** The carriages and logs that are in memory. */
export interface StreamMemory {
  readonly fold: FoldDeps;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
  readonly all: Map<string, Carriage>;
  /** Those that the commit at hand is about. It touches these and what is due, and no others. */
  readonly woken: Set<Carriage>;
  readonly due: DueQueue;
  /** Those that have taken more than was folded, by their topics without the kind, whose turn it is first. */
  readonly behind: Map<string, Carriage>;
  /** Those that have to be folded again, and those of whose alarms the newest are to be read again. */
  readonly toRefold: Set<Carriage>;
  readonly lackingAlarms: Set<Carriage>;
  /** What topics are for, as far as that was asked: a few for each stream in memory. Topics that were refused are not among them. */
  readonly topics: Map<string, Addressed>;
  readonly refolds: RefoldPace;
  /** How many carriages are known, retired ones not counted; null where that has to be counted. */
  carriages: number | null;
  /** A message of the carriage's has come, or one is meant for it: if it had been retired, it is there again. */
  hear(carriage: Carriage): void;
  forget(carriage: Carriage): void;
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
    woken: new Set(),
    due: dueQueue(),
    behind: new Map(),
    toRefold: new Set(),
    lackingAlarms: new Set(),
    topics: new Map(),
    refolds: { freeAt: 0, pressed: false },
    carriages: null,
    hear: (carriage) => {
      carriage.intake.messageAt = fold.now();
      if (!carriage.intake.retired) return;
      carriage.intake.retired = false;
      noteNewsAtOnce(carriage.outbox);
      memory.carriages = null;
    },
    forget: (carriage) => {
      writeMessageLog(carriage, fold.changes);
      saveMarks(carriage, fold);
      const topic = topicOf(carriage);
      for (const kind of topicKinds) memory.topics.delete(`${topic}/${kind}`);
      for (const held of [memory.woken, memory.toRefold, memory.lackingAlarms]) held.delete(carriage);
      memory.behind.delete(topic);
      memory.due.put(carriage, Infinity);
      memory.all.delete(keyOf(carriage.site, carriage.carriage, carriage.stream));
    },
    forgetAll: () => {
      memory.carriages = null;
      for (const held of [memory.all, memory.woken, memory.due, memory.behind, memory.toRefold, memory.lackingAlarms, memory.topics]) held.clear();
      fold.procedures.forgetAll();
      fold.passes.forgetAll();
    },
  };
  return memory;
}

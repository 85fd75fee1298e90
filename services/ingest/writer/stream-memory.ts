import { topicKinds, type TopicKind } from '../../../shared/weld/decode/decode-topic.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { saveMarks } from '../fold/keep-marks.js';
import { writeMessageLog } from '../fold/message-log.js';
import type { RefoldPace } from './refold-pace.js';
import { topicOf, type Carriage } from '../fold/carriage.js';
import { dueQueue, type DueQueue } from './due-queue.js';
import { noteNewsAtOnce } from '../fold/outbox.js';

/** The stream and the kind to which a topic of a carriage belongs. */
export interface Addressed {
  readonly kind: TopicKind;
  readonly carriage: Carriage;
}

/** The carriages and logs that are in memory. */
export interface StreamMemory {
  readonly fold: FoldDeps;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
  readonly all: Map<string, Carriage>;
  /** The carriages that the current commit concerns. It touches these and those that are due, and no others. */
  readonly woken: Set<Carriage>;
  readonly due: DueQueue;
  /** Carriages that have received more than was folded, by their topics without the kind, the next in turn first. */
  readonly behind: Map<string, Carriage>;
  /** Carriages that have to be folded again, and those whose newest alarms have to be read again. */
  readonly toRefold: Set<Carriage>;
  readonly lackingAlarms: Set<Carriage>;
  /** The known topics: a few for each stream in memory. Refused topics are not among them. */
  readonly topics: Map<string, Addressed>;
  readonly refolds: RefoldPace;
  /** How many carriages exist, not counting retired ones; null if they have to be counted. */
  carriages: number | null;
  /** Notes a message from or for the carriage: if it was retired, it is back. */
  hear(carriage: Carriage): void;
  forget(carriage: Carriage): void;
  /** Unloads everything: after a failed commit, memory may be ahead of the store. */
  forgetAll(): void;
}

export function keyOf(site: string, carriage: string, stream: string): string {
  return `${site}/${carriage}/${stream}`;
}

/** Whether an empty message of that kind clears what was retained; readings are never retained. */
export function takesBack(kind: string): boolean {
  return kind === 'assignment' || kind === 'status';
}

export function streamMemory(fold: FoldDeps, log: StreamMemory['log']): StreamMemory {
  const memory: StreamMemory = {
    fold, log, all: new Map(), woken: new Set(), due: dueQueue(), behind: new Map(), toRefold: new Set(), lackingAlarms: new Set(), topics: new Map(),
    refolds: { freeAt: 0, pressed: false }, carriages: null,
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

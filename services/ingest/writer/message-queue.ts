import type { IncomingMessage } from '../mqtt/message-source.js';

/** A message with its time of arrival, ms of the steady clock. */
export interface Waiting {
  readonly message: IncomingMessage;
  readonly at: number;
}

/** Carriages by their topics, without the kind at the end. */
type Named = Pick<ReadonlySet<string>, 'has'>;

/** Messages that wait for a commit: those of one carriage in their order, and the carriages in turn, so that a flooding one delays no other. */
export interface MessageQueue {
  put(waiting: Waiting): void;
  /** The next message of the carriage whose turn it is, skipping the carriages named; null if no other message waits. */
  next(passedOver?: Named): Waiting | null;
  /** Puts back messages that were taken and are not committed. */
  putBack(taken: readonly Waiting[]): void;
  size(): number;
}

interface Row {
  items: Waiting[];
  /** How many of the messages have been taken. */
  head: number;
}

const nobody: Named = new Set();

export function messageQueue(): MessageQueue {
  let rows = new Map<string, Row>();
  let size = 0;

  function put(waiting: Waiting): void {
    const key = carriageOf(waiting.message.topic);
    const row = rows.get(key);
    if (row === undefined) rows.set(key, { items: [waiting], head: 0 });
    else row.items.push(waiting);
    size += 1;
  }

  function firstBut(passedOver: Named): [string, Row] | null {
    for (const entry of rows) if (!passedOver.has(entry[0])) return entry;
    return null;
  }

  return {
    put,
    next(passedOver = nobody) {
      const found = firstBut(passedOver);
      if (found === null) return null;
      const [key, row] = found;
      const waiting = row.items[row.head] ?? null;
      row.head += 1;
      size -= 1;
      const empty = row.head >= row.items.length;
      if (empty) rows.delete(key);
      else if (rows.size > 1) {
        rows.delete(key);
        rows.set(key, row);
      }
      return waiting;
    },
    putBack(taken) {
      const behind = rows;
      rows = new Map();
      size = 0;
      for (const waiting of taken) put(waiting);
      for (const row of behind.values()) for (const waiting of row.items.slice(row.head)) put(waiting);
    },
    size: () => size,
  };
}

/** A topic without the kind at its end. */
function carriageOf(topic: string): string {
  return topic.slice(0, topic.lastIndexOf('/'));
}

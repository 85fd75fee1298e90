import type { IncomingMessage } from '../../../services/ingest/mqtt/message-source.js';

/** A recorder that keeps all messages and acknowledges them when a test says so. */
export interface HeldMessages {
  readonly all: IncomingMessage[];
  readonly onMessage: (message: IncomingMessage) => void;
  /** The payloads as text, in the order of arrival. */
  texts(): string[];
  /** How many messages are not acknowledged. */
  open(): number;
  /** The largest number that was ever unacknowledged. */
  mostOpen(): number;
  /** Acknowledges the first `count` of the unacknowledged messages, in order. */
  commit(count?: number): void;
}

export function heldMessages(): HeldMessages {
  const all: IncomingMessage[] = [];
  let done = 0;
  let most = 0;
  return {
    all,
    onMessage(message) {
      all.push(message);
      most = Math.max(most, all.length - done);
    },
    texts: () => all.map(({ payload }) => Buffer.from(payload).toString()),
    open: () => all.length - done,
    mostOpen: () => most,
    commit(count = Infinity) {
      for (const end = Math.min(all.length, done + count); done < end; ) {
        const message = all[done];
        done += 1;
        message?.acknowledge();
      }
    },
  };
}

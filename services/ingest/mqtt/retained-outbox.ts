import { isOwnTopic } from './publish-policy.js';

export interface RetainedOutbox {
  /** Adds the newest payload of a topic; earlier ones that have not gone out are dropped, for they are no longer true. */
  put(topic: string, payload: string): void;
  /**
   * A connection is up. What only we publish is sent again: a broker that was killed may have come back with an older state. What others publish too
   * (assignments) is not sent again once the broker has it: theirs may be newer.
   */
  connected(send: Send): void;
  disconnected(): void;
}

/** Sends one message; `done` says whether the broker has it. */
export type Send = (topic: string, payload: string, done: (taken: boolean) => void) => void;

/** Keeps the newest retained message of each topic until the broker has it; at most one of each topic is being sent. */
export function retainedOutbox(): RetainedOutbox {
  const topics = new Map<string, { payload: string; taken: boolean; underWay: boolean }>();
  let send: Send | null = null;
  let connection = 0;

  function flush(topic: string): void {
    const entry = topics.get(topic);
    if (entry === undefined || send === null || entry.taken || entry.underWay) return;
    const { payload } = entry;
    const on = connection;
    entry.underWay = true;
    send(topic, payload, (taken) => {
      if (on !== connection) return;
      entry.underWay = false;
      if (taken && entry.payload === payload) entry.taken = true;
      // A message that failed waits for the next connection; one that has changed meanwhile goes out now.
      else if (taken) flush(topic);
    });
  }

  return {
    put(topic, payload) {
      const entry = topics.get(topic);
      if (entry === undefined) topics.set(topic, { payload, taken: false, underWay: false });
      else {
        entry.payload = payload;
        entry.taken = false;
      }
      flush(topic);
    },
    connected(sender) {
      send = sender;
      connection += 1;
      for (const [topic, entry] of topics) {
        entry.underWay = false;
        if (isOwnTopic(topic)) entry.taken = false;
        flush(topic);
      }
    },
    disconnected() {
      send = null;
      connection += 1;
    },
  };
}

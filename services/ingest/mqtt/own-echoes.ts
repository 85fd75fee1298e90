/** Our own messages on a topic that we listen to as well, between their way out and their coming back. */
export interface OwnEchoes {
  /** Announces that `payload` is on its way to the broker. */
  sent(topic: string, payload: string): void;
  /**
   * Whether what has come is a message of our own behind which we have sent another: it says what was true once. The newest
   * of our own counts as anybody's: the broker's order decides between it and what a carriage sent meanwhile.
   */
  overtaken(topic: string, payload: Uint8Array): boolean;
}

/** More of one topic that never came back are forgotten, the oldest first. */
const MOST_AWAITED = 64;

/** MQTT 3.1.1 sends a client what it publishes itself where it subscribed to it; only MQTT 5 can leave that out. */
export function ownEchoes(): OwnEchoes {
  const awaited = new Map<string, string[]>();
  return {
    sent(topic, payload) {
      awaited.set(topic, [...(awaited.get(topic) ?? []), payload].slice(-MOST_AWAITED));
    },
    overtaken(topic, payload) {
      const own = awaited.get(topic);
      if (own === undefined) return false;
      const at = own.indexOf(Buffer.from(payload).toString('utf8'));
      if (at < 0) return false;
      const left = own.slice(at + 1);
      if (left.length > 0) awaited.set(topic, left);
      else awaited.delete(topic);
      return left.length > 0;
    },
  };
}

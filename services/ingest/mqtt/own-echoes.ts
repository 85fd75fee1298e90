/** Our own messages on a topic to which we also subscribe, from sending them until they come back. */
export interface OwnEchoes {
  /** Announces that `payload` is on its way to the broker. */
  sent(topic: string, payload: string): void;
  /**
   * Whether the message is one of our own after which we have sent another: it says what was true once. Our newest one is treated like anybody's: the
   * broker's order decides between it and what a carriage sent meanwhile.
   */
  overtaken(topic: string, payload: Uint8Array): boolean;
}

/** If more than this many messages of one topic never came back, the oldest are forgotten. */
const MOST_AWAITED = 64;

/** MQTT 3.1.1 sends a client its own messages if it subscribed to the topic; only MQTT 5 can prevent that. */
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

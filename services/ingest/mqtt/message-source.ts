/** Where a source tells what went wrong or changed; whoever composes the service decides where it goes. */
export type SourceLog = (level: 'info' | 'warn' | 'error', text: string) => void;

export interface IncomingMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  /**
   * From the embedded broker: the sender asked for it to be retained. From an outside broker: it was kept there and
   * handed over at subscribing; MQTT 3.1.1 (3.3.1.3) clears the flag on messages that are passed on live.
   */
  readonly retained: boolean;
  /**
   * Of a message at QoS 1 from an outside broker: its packet id, whether the broker says that it sends it again (MQTT
   * 3.1.1, 3.3.1.1), and whether it had kept our session.
   */
  readonly delivery?: { readonly packetId: number; readonly again: boolean; readonly resumed: boolean };
  /** Lets the acknowledgement go out; called once, after the synced commit. Further calls do nothing. */
  acknowledge(): void;
}

/** What ingest sees of MQTT, whichever broker is behind it. */
export interface MessageSource {
  /**
   * Starts taking messages; resolves when connected or listening, and subscribed; gives the address
   * (`mqtt://HOST:PORT`). Rejects with a plain sentence where that can't come about.
   */
  start(onMessage: (message: IncomingMessage) => void): Promise<{ readonly url: string }>;
  /** Publishes one of our own messages (QoS 1 for retained ones, else 0). A failure is logged, never thrown. */
  publish(topic: string, payload: string, retain: boolean): void;
  /** Stops reading further messages while true (storage away, or too much uncommitted); sockets stay bounded in memory. */
  hold(on: boolean): void;
  /** Stops taking messages, lets acknowledgements already due go out, closes. */
  stop(): Promise<void>;
}

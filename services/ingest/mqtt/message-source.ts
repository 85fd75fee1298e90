/** Where a source reports what went wrong or changed; the code that composes the service decides where it goes. */
export type SourceLog = (level: 'info' | 'warn' | 'error', text: string) => void;

export interface IncomingMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  /**
   * From the embedded broker: the sender asked for the message to be retained. From an outside broker: it was retained there and delivered on
   * subscribing; MQTT 3.1.1 (3.3.1.3) clears the flag on messages that are passed on live.
   */
  readonly retained: boolean;
  /** At QoS 1 from an outside broker: packet id, whether it says that it sends again (MQTT 3.1.1, 3.3.1.1), whether it had kept our session. */
  readonly delivery?: { readonly packetId: number; readonly again: boolean; readonly resumed: boolean };
  /** Releases the acknowledgement; called once, after the synced commit. Further calls do nothing. */
  acknowledge(): void;
}

/** What ingest sees of MQTT, whichever broker is behind it. */
export interface MessageSource {
  /**
   * Starts receiving messages; resolves with the address (`mqtt://HOST:PORT`) once connected or listening, and subscribed. Rejects with a plain
   * sentence if that is impossible.
   */
  start(onMessage: (message: IncomingMessage) => void): Promise<{ readonly url: string }>;
  /** Publishes one of our own messages (QoS 1 for retained ones, else 0). A failure is logged, never thrown. */
  publish(topic: string, payload: string, retain: boolean): void;
  /** Stops reading further messages while true (storage unavailable, or too much uncommitted); the memory of sockets stays bounded. */
  hold(on: boolean): void;
  /** Stops receiving messages, sends acknowledgements already due, and closes. */
  stop(): Promise<void>;
}

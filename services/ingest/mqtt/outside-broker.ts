import { brokerConnection, type BrokerConnection, type UncommittedLimits } from './broker-connection.js';
import { brokerTarget } from './broker-target.js';
import type { IncomingMessage, MessageSource, SourceLog } from './message-source.js';
import { ownEchoes } from './own-echoes.js';
import { isOwnTopic } from './publish-policy.js';
import { retainedOutbox } from './retained-outbox.js';

export interface OutsideBrokerOptions {
  /** `mqtt://` or `mqtts://`. */
  readonly url: string;
  readonly username?: string;
  readonly password?: string;
  /** PEM of the certificate authority to trust instead of the usual ones. */
  readonly ca?: string;
  /** The session's name at the broker: the same after every start, and unique to this service. */
  readonly clientId: string;
  /** 4 is MQTT 3.1.1 (the default), 5 is MQTT 5. */
  readonly protocolVersion?: 4 | 5;
  readonly log?: SourceLog;
  /** How much may be received and not yet committed. */
  readonly limits?: UncommittedLimits;
  /** The shortest and longest wait before connecting again, ms. */
  readonly reconnect?: { readonly least: number; readonly most: number };
  /** Called when the connection is lost (with the reason) and when it is back. */
  readonly onConnection?: (up: boolean, reason: string | null) => void;
}

const LIMITS: UncommittedLimits = { messages: 4_000, bytes: 16 * 1024 * 1024 };
const RECONNECT = { least: 1_000, most: 15_000 };

/**
 * Receives messages from an outside broker, in a session that the broker keeps while we are away. The broker receives acknowledgements only for
 * committed messages, and sends the others again on the next connection.
 */
export function outsideBroker(options: OutsideBrokerOptions): MessageSource {
  const target = brokerTarget(options.url);
  const log: SourceLog = options.log ?? (() => undefined);
  const { least, most } = options.reconnect ?? RECONNECT;
  const outbox = retainedOutbox();
  const echoes = ownEchoes();
  let receive: ((message: IncomingMessage) => void) | null = null;
  let connection: BrokerConnection | null = null;
  let leaving: Promise<void> = Promise.resolve();
  let retry: NodeJS.Timeout | null = null;
  let failures = 0;
  let wasReady = false;
  let ready = false;
  let held = false;
  let stopped = false;
  let onFirst: { resolve: (answer: { url: string }) => void; reject: (error: Error) => void } | null = null;

  function became(up: boolean, reason: string | null): void {
    if (ready === up) return;
    ready = up;
    options.onConnection?.(up, reason);
  }

  function open(): void {
    if (retry !== null) clearTimeout(retry);
    retry = null;
    const taking = receive;
    if (connection !== null || held || stopped || taking === null) return;
    const opened = brokerConnection({
      target, clientId: options.clientId, username: options.username ?? target.username, password: options.password ?? target.password, ca: options.ca,
      protocolVersion: options.protocolVersion ?? 4, limits: options.limits ?? LIMITS, subscribe: !wasReady, log,
      onMessage(message) {
        if (!message.retained && echoes.overtaken(message.topic, message.payload)) message.acknowledge();
        else taking(message);
      },
      onReady(resumed) {
        failures = 0;
        wasReady = true;
        log('info', `connected to the MQTT broker at ${target.url}${resumed ? ', which kept the session' : ''}`);
        outbox.connected((topic, payload, done) => {
          if (!isOwnTopic(topic)) echoes.sent(topic, payload);
          opened.publish(topic, payload, true, (taken) => {
            if (!taken) log('warn', `${topic} was not taken by the MQTT broker; it is sent again on the next connection`);
            done(taken);
          });
        });
        onFirst?.resolve({ url: target.url });
        onFirst = null;
        became(true, null);
      },
      onGone(reason, refusal) {
        if (connection !== opened) return;
        connection = null;
        outbox.disconnected();
        const text = `no connection to the MQTT broker at ${target.url}: ${reason}`;
        log('warn', text);
        became(false, text);
        if (refusal && onFirst !== null) {
          // A wrong password at the very start is a wrong setting, not a passing fault.
          onFirst.reject(new Error(text));
          onFirst = null;
          stopped = true;
          return;
        }
        again();
      },
    });
    connection = opened;
  }

  function again(): void {
    if (held || stopped || retry !== null) return;
    // Many clients that lost the same broker must not all come back at the same moment.
    const spread = Math.min(most - least, least * 2 ** failures);
    failures = Math.min(failures + 1, 16);
    retry = setTimeout(open, least + Math.random() * spread);
  }

  function close(): Promise<void> {
    if (retry !== null) clearTimeout(retry);
    retry = null;
    const closing = connection;
    connection = null;
    outbox.disconnected();
    if (closing !== null) leaving = closing.leave();
    return leaving;
  }

  return {
    start(onMessage) {
      receive = onMessage;
      return new Promise((resolve, reject) => {
        onFirst = { resolve, reject };
        open();
      });
    },
    publish(topic, payload, retain) {
      if (retain) {
        outbox.put(topic, payload);
        return;
      }
      connection?.publish(topic, payload, false, (taken) => {
        if (!taken) log('info', `${topic} was not published: no connection to the MQTT broker, or it reads too slowly`);
      });
    },
    hold(on) {
      if (on === held || stopped) return;
      held = on;
      // While we are disconnected, the broker keeps what comes. A connection left open and unread would exceed its keepalive.
      if (on) {
        void close();
        became(false, 'the connection to the MQTT broker was given up for the time being: nothing can be stored');
      } else {
        void leaving.then(open);
      }
    },
    async stop() {
      stopped = true;
      onFirst?.reject(new Error(`stopped before there was a connection to the MQTT broker at ${target.url}`));
      onFirst = null;
      await close();
    },
  };
}

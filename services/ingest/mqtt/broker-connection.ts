import type { IPublishPacket } from 'mqtt-packet';
import { MqttClient, type IClientOptions } from 'mqtt';
import { gatedStream } from './gated-stream.js';
import type { IncomingMessage, SourceLog } from './message-source.js';
import type { BrokerTarget } from './broker-target.js';
import { isOwnTopic } from './publish-policy.js';

/** Everything that carriages publish. Our own kinds are included and ignored, for MQTT has no filter that excludes. */
const TOPICS = 'weld/+/+/+';
/** How long the broker keeps the session while the service is away, s: seven days. */
const SESSION_EXPIRY = 7 * 24 * 3_600;
/** How many bytes of our own may wait for a slow broker before messages that may be lost are dropped. */
const MOST_UNSENT = 1024 * 1024;
/** CONNACK codes that mean "not now": 3 in MQTT 3.1.1 (table 3.1); unavailable, busy, over quota, over rate in MQTT 5 (3.2.2.2). */
const PASSING_REFUSALS: ReadonlySet<number> = new Set([3, 136, 137, 151, 159]);
/** Time for the last acknowledgements when leaving, ms. */
const GRACE = 1_000;

export interface UncommittedLimits {
  readonly messages: number;
  readonly bytes: number;
}

export interface ConnectionOptions {
  readonly target: BrokerTarget;
  readonly clientId: string;
  readonly username: string | undefined;
  readonly password: string | undefined;
  readonly ca: string | undefined;
  readonly protocolVersion: 4 | 5;
  readonly limits: UncommittedLimits;
  /** Subscribe even if the broker still has the session: at the first connection, so that retained messages come. */
  readonly subscribe: boolean;
  readonly onMessage: (message: IncomingMessage) => void;
  /** Connected and subscribed. `resumed` says whether the broker had kept the session. */
  readonly onReady: (resumed: boolean) => void;
  /** Called once when the connection ends, for whatever reason; `refusal` is set if the broker rejected the CONNECT. */
  readonly onGone: (reason: string, refusal: boolean) => void;
  readonly log: SourceLog;
}

export interface BrokerConnection {
  publish(topic: string, payload: string, retain: boolean, done: (taken: boolean) => void): void;
  /** Accepts no further message, sends the acknowledgements that are due, and closes. */
  leave(): Promise<void>;
}

/**
 * One connection to an outside broker, from CONNECT to its end; a new one is made for each attempt. So an acknowledgement that comes late, when
 * packet ids may have been reused, belongs to a gate that leads nowhere.
 */
export function brokerConnection(options: ConnectionOptions): BrokerConnection {
  const { target, limits, log } = options;
  let over = false;
  let reason = 'the broker closed the connection';
  let refusal = false;
  let messages = 0;
  let bytes = 0;
  let waiting: (() => void) | null = null;
  let alone = false;
  let resumed = false;

  const gated = gatedStream(target.connect(options.ca), (length) => {
    log('warn', `A message in a packet of ${length} bytes is too long; kept its beginning`);
  });
  const { stream, gate } = gated;
  const clientOptions: IClientOptions = {
    clientId: options.clientId, clean: false, keepalive: 30, connectTimeout: 10_000, protocolVersion: options.protocolVersion,
    // The next connection is made by the caller, with a gate of its own.
    reconnectPeriod: 0, resubscribe: false, queueQoSZero: false, timerVariant: 'native',
    ...(options.username === undefined ? {} : { username: options.username }),
    ...(options.password === undefined ? {} : { password: options.password }),
    ...(options.protocolVersion === 5 ? { properties: { sessionExpiryInterval: SESSION_EXPIRY, receiveMaximum: Math.min(limits.messages, 65_535) } } : {}),
  };
  const client = new MqttClient(() => stream, clientOptions);

  function settle(size: number): void {
    messages -= 1;
    bytes -= size;
    const enough = alone ? messages === 0 : messages <= limits.messages / 2 && bytes <= limits.bytes / 2;
    if (waiting === null || !enough) return;
    alone = false;
    const go = waiting;
    waiting = null;
    go();
  }

  // Set in the same turn as the constructor, which connects at once: the library's handler would acknowledge messages that nobody has seen.
  client.handleMessage = (packet: IPublishPacket, next) => {
    if (over) return;
    const covered = packet.qos === 1 && packet.messageId !== undefined ? gate.expect(packet.messageId) : () => undefined;
    if (isOwnTopic(packet.topic)) {
      covered();
      next();
      return;
    }
    const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload;
    const size = payload.length;
    messages += 1;
    bytes += size;
    let called = false;
    const acknowledge = (): void => {
      if (called || over) return;
      called = true;
      covered();
      settle(size);
    };
    // An assignment carries no number by which a second copy could be recognised. No message after it is accepted before it is acknowledged, so what
    // a broker sends again never goes back to the assignment before the one in force.
    alone = packet.topic.endsWith('/assignment');
    options.onMessage({
      topic: packet.topic, payload, retained: packet.retain, acknowledge,
      ...(packet.messageId === undefined ? {} : { delivery: { packetId: packet.messageId, again: packet.dup, resumed } }),
    });
    // This must come last: the library may hand on the next message before this call returns.
    if (alone ? messages > 0 : messages >= limits.messages || bytes >= limits.bytes) {
      waiting = next;
    } else {
      alone = false;
      next();
    }
  };

  function subscribe(done: () => void): void {
    client.subscribe(TOPICS, { qos: 1 }, (error, granted) => {
      if (error === null && granted?.[0]?.qos === 1) {
        done();
        return;
      }
      reason = `the broker does not let us subscribe to ${TOPICS} at QoS 1${error === null ? '' : `: ${error.message}`}`;
      client.end(true);
    });
  }

  client.on('connect', (connack) => {
    resumed = connack.sessionPresent;
    // A session that was kept includes its subscription, and its backlog may come before the answer to another SUBSCRIBE.
    if (resumed) options.onReady(true);
    if (options.subscribe || !resumed) subscribe(() => { if (!resumed) options.onReady(false); });
  });
  client.on('error', (error) => {
    // The errors of a socket have a string as code.
    refusal = 'code' in error && typeof error.code === 'number' && !client.connected && !PASSING_REFUSALS.has(error.code);
    reason = error.message;
  });
  client.on('close', () => {
    if (over) return;
    over = true;
    options.onGone(reason, refusal);
  });

  return {
    publish(topic, payload, retain, done) {
      if (over || !client.connected || (!retain && stream.writableLength > MOST_UNSENT)) {
        done(false);
        return;
      }
      client.publish(topic, payload, { qos: retain ? 1 : 0, retain }, (error) => { done(!error); });
    },
    async leave() {
      over = true;
      // The library writes at the end of its turn: an acknowledgement given just now may not have reached the gate yet.
      await new Promise((resolve) => setImmediate(resolve));
      await gated.leave(GRACE);
      await client.endAsync(true).catch(() => undefined);
    },
  };
}

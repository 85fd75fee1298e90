import { createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { Aedes, type Client, type PublishPacket, type Subscription } from 'aedes';
import { admission, ADMISSION_LIMITS, type AdmissionLimits } from './admission.js';
import { clientStream, type ClientStream } from './client-stream.js';
import { connectionPlaces, type Place } from './connection-places.js';
import { pubacksInOrder } from './pubacks-in-order.js';
import type { IncomingMessage, MessageSource, SourceLog } from './message-source.js';
import { publishPolicy, retainedBudget } from './publish-policy.js';

export interface EmbeddedBrokerOptions {
  readonly host: string;
  /** 0 picks a free port. */
  readonly port: number;
  readonly log?: SourceLog;
  readonly limits?: AdmissionLimits;
  /** What to do with a packet of more than 8 MiB: `close` the client (the default), or `trim` the packet so that it is refused. */
  readonly oversize?: 'close' | 'trim';
  /** Time in which a short packet has to be complete, ms; 30 s if absent. */
  readonly packetWithin?: number;
}

/** Connections at a time, in total and from one address other than loopback; each may have an incomplete packet in memory. */
const MOST_CLIENTS = 1_000;
const MOST_OF_ADDRESS = 500;
/** Subscriptions of one client. */
const MOST_SUBSCRIPTIONS = 100;
/** The most bytes of retained messages from clients. */
const MOST_RETAINED = 16 * 1024 * 1024;
/** The topic for messages that are acknowledged and reach nobody. */
const NOWHERE = '$seamwarden/nowhere';
/** Time for a client to receive its last acknowledgements when the broker stops, ms. */
const GRACE = 500;

interface Visitor {
  readonly connection: ClientStream;
  /** Whether its CONNECT was accepted, and whether it has published or subscribed since. */
  readonly state: { connected: boolean; working: boolean };
  readonly order: ReturnType<typeof pubacksInOrder>;
}

/**
 * A broker within the process, whose acknowledgements mean what ours mean: a PUBACK (QoS 1) or PUBREC (QoS 2) leaves when the message has been
 * committed, in the order of the messages, and only then do other subscribers get the message. The broker keeps no sessions: a client that was away
 * gets only the retained messages.
 */
export function embeddedBroker(options: EmbeddedBrokerOptions): MessageSource {
  const { host, port, oversize = 'close' } = options;
  const log: SourceLog = options.log ?? (() => undefined);
  const gate = admission(options.limits ?? ADMISSION_LIMITS);
  const fitsRetained = retainedBudget(MOST_RETAINED);
  const places = connectionPlaces(MOST_CLIENTS, MOST_OF_ADDRESS);
  const visitors = new WeakMap<Duplex, Visitor>();
  const open = new Set<ClientStream>();
  let onMessage: ((message: IncomingMessage) => void) | null = null;
  let broker: Aedes | null = null;
  let server: Server | null = null;
  let stopped = false;

  function settleTopic(packet: PublishPacket, distribute: boolean, retain: boolean): void {
    if (!distribute) {
      packet.topic = NOWHERE;
      packet.payload = Buffer.alloc(0);
    }
    if (!packet.retain) return;
    if (!retain || !fitsRetained(packet.topic, packet.payload.length)) packet.retain = false;
  }

  function authorizePublish(client: Client | null, packet: PublishPacket, done: (error?: Error | null) => void): void {
    const policy = publishPolicy(packet.topic);
    const visitor = client === null ? undefined : visitors.get(client.conn);
    if (client === null || visitor === undefined || stopped) {
      done(new Error('the broker is stopping'));
      return;
    }
    // A will was not read as a separate message: it came with the CONNECT, so it has no length.
    const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload;
    const settle = visitor.connection.share.hand(packet.length ?? payload.length);
    if (policy === null) {
      settle();
      done(new Error(`${packet.topic}: topics that begin with $ are the broker's own`));
      return;
    }
    visitor.state.working = true;
    const retained = packet.retain;
    const isWill = packet.messageId === undefined;
    const due = visitor.order.enter(() => {
      settle();
      // A client that left with a message unacknowledged sends it again; after QoS 0 or with a will it does not.
      if (stopped || (client.closed && packet.qos > 0 && !isWill)) return;
      settleTopic(packet, policy.distribute, policy.retain);
      done(null);
    });
    if (policy.handOn && onMessage !== null) onMessage({ topic: packet.topic, payload, retained, acknowledge: due });
    else due();
  }

  function authorizeSubscribe(client: Client, subscription: Subscription, done: (error: Error | null, subscription?: Subscription | null) => void): void {
    const count = Object.keys((client as unknown as { readonly subscriptions: object }).subscriptions).length;
    // Refused with 0x80 in the SUBACK (MQTT 3.1.1, 3.9.3); the client stays.
    if (count >= MOST_SUBSCRIPTIONS) {
      log('warn', `MQTT client ${client.id}: has ${count} subscriptions, which is the most; ${subscription.topic} was refused`);
      done(null, null);
      return;
    }
    const visitor = visitors.get(client.conn);
    if (visitor !== undefined) visitor.state.working = true;
    done(null, subscription);
  }

  function welcome(socket: Socket): void {
    const peer = `${socket.remoteAddress ?? 'unknown'}:${socket.remotePort ?? 0}`;
    const name = { id: '' };
    const connection = clientStream(socket, {
      admission: gate,
      oversize,
      ...(options.packetWithin === undefined ? {} : { packetWithin: options.packetWithin }),
      onFault: (reason) => { log('warn', `MQTT client ${name.id || 'not yet named'} at ${peer}: ${reason}`); },
    });
    const { stream } = connection;
    const state = { connected: false, working: false };
    const place: Place = { address: socket.remoteAddress ?? '', since: performance.now(), connected: () => state.connected, working: () => state.working, leave: (reason) => { connection.fault(reason); } };
    // Its will is published some time after the stream has closed, so the visitor is not removed with the stream.
    visitors.set(stream, { connection, order: pubacksInOrder(), state });
    open.add(connection);
    stream.once('close', () => {
      open.delete(connection);
      places.free(place);
    });
    const full = places.take(place);
    if (full !== null) {
      connection.fault(full);
      return;
    }
    const client = broker?.handle(stream);
    client?.once('connected', () => { name.id = client.id; });
  }

  async function createBroker(): Promise<Aedes> {
    const made = await Aedes.createBroker({
      authorizePublish,
      preConnect(client, packet, done) {
        // The stream judges the silence instead, for the broker hears nothing while messages are held back.
        visitors.get(client.conn)?.connection.keepAlive(packet.keepalive ?? 0);
        packet.keepalive = 0;
        // Persistent sessions would queue without bound for subscribers that never come back.
        packet.clean = true;
        done(null, true);
      },
      authorizeSubscribe,
      // A subscriber need not learn which other clients are connected.
      authorizeForward: (_client, packet) => (packet.topic === NOWHERE || packet.topic.startsWith('$SYS/') ? null : packet),
    });
    made.on('connackSent', (packet, client) => {
      const visitor = packet.returnCode === 0 ? visitors.get(client.conn) : undefined;
      if (visitor === undefined) return;
      visitor.state.connected = true;
      visitor.connection.connackSent();
    });
    made.on('clientError', (client, error) => { log('info', `MQTT client ${client.id}: ${error.message}`); });
    made.on('connectionError', (_client, error) => { log('info', `MQTT connection that named no client: ${error.message}`); });
    return made;
  }

  return {
    async start(receive) {
      onMessage = receive;
      broker = await createBroker();
      // A client may disconnect while its last messages are still to be committed.
      const listening = createServer({ allowHalfOpen: true }, welcome);
      // More than there are places: a place may become free by disconnecting another client.
      listening.maxConnections = MOST_CLIENTS + 100;
      server = listening;
      try {
        await listen(listening, host, port);
      } catch (error) {
        await closeBroker(broker);
        throw error;
      }
      const address = listening.address() as AddressInfo;
      const name = address.family === 'IPv6' ? `[${address.address}]` : address.address;
      return { url: `mqtt://${name}:${address.port}` };
    },

    publish(topic, payload, retain) {
      if (broker === null || stopped) {
        log('warn', `${topic} was not published: the MQTT broker is not running`);
        return;
      }
      const packet: PublishPacket = { cmd: 'publish', topic, payload: Buffer.from(payload), qos: retain ? 1 : 0, retain, dup: false };
      broker.publish(packet, (error) => {
        if (error) log('warn', `${topic} was not published: ${error.message}`);
      });
    },

    hold(on) {
      if (!stopped) gate.hold(on);
    },

    async stop() {
      if (stopped) return;
      stopped = true;
      gate.hold(true);
      const closed = new Promise<void>((resolve) => {
        if (server?.listening === true) server.close(() => { resolve(); });
        else resolve();
      });
      // Acknowledgements that are due have been written by the end of this turn.
      await new Promise((resolve) => setImmediate(resolve));
      await Promise.all([...open].map((connection) => connection.shut(GRACE)));
      if (broker !== null) await closeBroker(broker);
      await closed;
    },
  };
}

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const reasons: Record<string, string> = {
        EADDRINUSE: 'the port is taken',
        EACCES: 'not allowed to listen on this port',
        EADDRNOTAVAIL: 'this machine has no such address',
        ENOTFOUND: 'no such host',
      };
      const reason = reasons[error.code ?? ''] ?? error.message;
      reject(new Error(`The MQTT broker cannot listen on ${host}:${port}: ${reason}`, { cause: error }));
    });
    server.listen(port, host, resolve);
  });
}

function closeBroker(broker: Aedes): Promise<void> {
  return new Promise((resolve) => {
    broker.close(() => { resolve(); });
  });
}

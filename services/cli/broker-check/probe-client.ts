import { setTimeout as wait } from 'node:timers/promises';
import { MqttClient, type IClientOptions } from 'mqtt';
import type { IConnackPacket } from 'mqtt-packet';
import type { BrokerTarget } from '../../ingest/mqtt/broker-target.js';

export interface ProbeMessage {
  readonly topic: string;
  readonly payload: Buffer;
  readonly retained: boolean;
}

/** One connection that a probe makes. */
export interface ProbeClient {
  readonly connack: IConnackPacket;
  readonly received: readonly ProbeMessage[];
  /** The QoS that was granted; 128 where it was refused. */
  subscribe(topic: string): Promise<number>;
  /** Publishes with QoS 1; rejects if the connection ends before the acknowledgement. */
  publish(topic: string, payload: string | Buffer, retain?: boolean): Promise<void>;
  /** Waits until that many messages have arrived; false if none came for `patience` ms. */
  arrived(count: number, patience?: number): Promise<boolean>;
  /** Ends without a word, as a lost connection does. */
  cut(): Promise<void>;
  end(): Promise<void>;
}

export interface ProbeOptions {
  readonly clientId: string;
  /** Whether an earlier session is discarded, and this one when its connection ends. */
  readonly clean: boolean;
  /** false: receives the first message and acknowledges none. */
  readonly acknowledge?: boolean;
  readonly more?: IClientOptions;
}

const connectWithin = 5_000;
/** ms without a message after which no further one is expected. */
const quiet = 3_000;

/** Connects as the service would: MQTT 3.1.1 unless `more` says otherwise. Rejects with the broker's reason. */
export function openProbe(target: BrokerTarget, options: ProbeOptions): Promise<ProbeClient> {
  const { username, password } = target;
  const client = new MqttClient(() => target.connect(undefined), {
    clientId: options.clientId, clean: options.clean, connectTimeout: connectWithin, reconnectPeriod: 0, resubscribe: false, timerVariant: 'native',
    ...(username === undefined ? {} : { username }),
    ...(password === undefined ? {} : { password }),
    ...options.more,
  });
  const received: ProbeMessage[] = [];
  // In the same turn as the constructor, or the library's own handler would acknowledge the first messages.
  client.handleMessage = (packet, next) => {
    received.push({ topic: packet.topic, payload: Buffer.from(packet.payload), retained: packet.retain });
    if (options.acknowledge !== false) next();
  };

  const probe = (connack: IConnackPacket): ProbeClient => ({
    connack,
    received,
    async subscribe(topic) {
      const [granted] = await client.subscribeAsync(topic, { qos: 1 }).catch(() => []);
      return granted?.qos ?? 128;
    },
    publish(topic, payload, retain = false) {
      return new Promise((resolve, reject) => {
        // If the connection ends, the library may never answer.
        const lost = (): void => { reject(new Error('the broker closed the connection')); };
        client.once('close', lost);
        client.publish(topic, payload, { qos: 1, retain }, (error) => {
          client.removeListener('close', lost);
          if (error) reject(error);
          else resolve();
        });
      });
    },
    async arrived(count, patience = quiet) {
      let newest = performance.now();
      let before = received.length;
      while (received.length < count) {
        if (received.length > before) newest = performance.now();
        before = received.length;
        if (performance.now() - newest > patience) return false;
        await wait(10);
      }
      return true;
    },
    async cut() {
      client.stream.destroy();
      await client.endAsync(true);
    },
    end: () => client.endAsync(),
  });

  return new Promise((resolve, reject) => {
    let reason = 'the broker closed the connection';
    client.setMaxListeners(0);
    client.once('connect', (connack) => { resolve(probe(connack)); });
    client.on('error', (error) => { reason = error.message || error.name; });
    client.once('close', () => {
      client.end(true);
      reject(new Error(reason));
    });
  });
}

import { connect, type MqttClient } from 'mqtt';
import type { CarriagePlan } from './carriage-plan.js';
import { createKeptMessages, readStoredMark } from './kept-messages.js';
import { bootOf, carriageMessages, type Sending } from './simulated-carriage.js';

/** One simulated carriage on its own connection to a broker. */
export interface CarriagePlayer {
  /** Sends what is due at `simulated` ms since the start. */
  advance(simulated: number): void;
  /** Says `offline`, waits for what is on its way and ends the connection. */
  stop(): Promise<void>;
}

/** Messages on their way without acknowledgement, at most. */
const mostUnacknowledged = 32;
/** ms between attempts to connect; for the stored mark after connecting; for the last acknowledgements when stopping. */
const reconnectAfter = 1000;
const waitForMark = 500;
const waitForEnd = 2000;

export function createCarriagePlayer(url: string, plan: CarriagePlan, sending: Sending, log: (line: string) => void): CarriagePlayer {
  const { site, carriage } = plan;
  const boot = bootOf(plan, sending);
  const topic = (kind: string): string => `weld/${site}/${carriage}/${kind}`;
  const source = carriageMessages(plan, sending);
  const kept = createKeptMessages();
  let upcoming = source.next().value;
  let client: MqttClient | null = null;
  let ready = false;
  let unacknowledged = 0;
  let retry: NodeJS.Timeout | undefined;
  let stopping = false;
  let said = '';

  // A state is sent once, not on every attempt.
  const say = (line: string): void => {
    if (line !== said) log(`${carriage}: ${line}`);
    said = line;
  };

  const send = (): void => {
    const connection = client;
    while (connection !== null && ready && unacknowledged < mostUnacknowledged) {
      const next = kept.nextToSend();
      if (next === undefined) return;
      next.state = 'sent';
      unacknowledged += 1;
      connection.publish(next.message.topic, next.message.payload, { qos: 1, retain: next.message.retain }, (error) => {
        // An answer that belongs to an earlier connection does not count: everything from then was marked for sending again.
        if (connection !== client) return;
        unacknowledged -= 1;
        // An error is reported at once while the connection closes: trying the next message then would go on without end.
        if (error != null) return;
        kept.acknowledged(next, performance.now());
        send();
      });
    }
  };

  const begin = (): void => {
    // Every connection is a client of its own: what to send again is decided here, by the stored mark.
    const connection = connect(url, {
      clientId: `seamwarden-${boot}`,
      reconnectPeriod: 0,
      connectTimeout: 10_000,
      keepalive: 30,
      will: { topic: topic('status'), payload: Buffer.from('offline'), qos: 1, retain: true },
    });
    client = connection;
    const startSending = (): void => {
      if (connection !== client || ready) return;
      ready = true;
      send();
    };
    connection.on('connect', () => {
      say('connected');
      connection.publish(topic('status'), 'online', { qos: 1, retain: true });
      connection.subscribe(topic('stored'), { qos: 1 }, () => setTimeout(startSending, waitForMark));
    });
    connection.on('message', (_topic, payload) => {
      const mark = readStoredMark(payload.toString('utf8'), boot);
      if (mark !== null) kept.stored(mark, performance.now());
      startSending();
      send();
    });
    connection.on('error', (error) => { say(`no connection to ${shownUrl(url)}: ${error.message || error.name}`); });
    connection.on('close', () => {
      if (connection !== client) return;
      client = null;
      const wasReady = ready;
      ready = false;
      unacknowledged = 0;
      kept.connectionLost();
      connection.end(true);
      if (stopping) return;
      if (wasReady) say('connection lost, trying again');
      retry = setTimeout(begin, reconnectAfter);
    });
  };

  begin();
  return {
    advance: (simulated) => {
      while (upcoming.at <= simulated) {
        if (!kept.hasRoom()) {
          say('memory full, waits until something has been stored');
          break;
        }
        // `online` is sent on every connection anyway.
        if (upcoming.topic !== topic('status')) kept.add(upcoming);
        upcoming = source.next().value;
      }
      send();
    },
    stop: async () => {
      stopping = true;
      clearTimeout(retry);
      const connection = client;
      if (connection === null) return;
      if (!connection.connected) {
        connection.end(true);
        return;
      }
      await new Promise<void>((resolve) => {
        const late = setTimeout(resolve, waitForEnd);
        // MQTT.js ends gracefully only after the acknowledgements of all that was published before.
        connection.publish(topic('status'), 'offline', { qos: 1, retain: true });
        connection.end(false, {}, () => {
          clearTimeout(late);
          resolve();
        });
      });
      connection.end(true);
    },
  };
}

/** The address without a user's name and password. */
function shownUrl(url: string): string {
  const { protocol, host } = new URL(url);
  return `${protocol}//${host}`;
}

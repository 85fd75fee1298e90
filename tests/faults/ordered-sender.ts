import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';

export interface Outgoing {
  readonly topic: string;
  readonly payload: string;
}

/** Messages without acknowledgement at most. */
const window = 100;

/**
 * Sends a list in its order, over as many connections as it takes: what was not acknowledged when one broke off goes out again first.
 * `url` is null while there is nobody to send to; `acknowledged` is called for each message once.
 */
export async function sendInOrder(url: () => string | null, list: readonly Outgoing[], acknowledged: () => void): Promise<void> {
  const [begun, done] = [new Set<Outgoing>(), new Set<Outgoing>()];
  let left = [...list];
  while (left.length > 0) {
    const now = url();
    if (now !== null) await session(now, left, begun, (own) => {
      if (done.has(own)) return;
      done.add(own);
      acknowledged();
    });
    left = left.filter((own) => !done.has(own));
    if (left.length > 0) await wait(20);
  }
}

/** One connection: resolves when all is acknowledged or the connection is gone. */
function session(url: string, list: readonly Outgoing[], begun: Set<Outgoing>, acknowledged: (own: Outgoing) => void): Promise<void> {
  return new Promise((resolve) => {
    const client = mqtt.connect(url, { reconnectPeriod: 0, connectTimeout: 5_000, keepalive: 0 });
    let next = 0;
    let open = 0;
    const end = (): void => {
      client.end(true);
      resolve();
    };
    const goOn = (): void => {
      for (let own = list[next]; own !== undefined && open < window; own = list[next]) {
        const message = own;
        next += 1;
        open += 1;
        // A copy is marked by this flag (MQTT 3.1.1, 3.3.1.1).
        const dup = begun.has(message);
        begun.add(message);
        client.publish(message.topic, message.payload, { qos: 1, dup }, (error) => {
          // MQTT.js calls back without an error when the PUBACK has come, and only then.
          if (error != null) return;
          open -= 1;
          acknowledged(message);
          if (next === list.length && open === 0) end();
          else goOn();
        });
      }
    };
    client.on('connect', goOn);
    client.on('error', () => undefined);
    client.on('close', end);
  });
}

import mqtt from 'mqtt';

export interface Outgoing {
  readonly topic: string;
  readonly payload: string;
}

/** Messages without acknowledgement at most. */
const window = 100;

/**
 * Sends a list in its order in one session, over as many connections as it takes: what was not acknowledged when one broke off goes out
 * again first, under its number and with the flag of a copy (MQTT 3.1.1, 4.4). `acknowledged` is called for each message once.
 */
export async function sendInOrder(url: string, name: string, list: readonly Outgoing[], acknowledged: () => void): Promise<void> {
  const outgoingStore = new mqtt.Store();
  const put = outgoingStore.put.bind(outgoingStore);
  // What is kept for sending again is a copy from then on; MQTT.js leaves the flag to its store.
  outgoingStore.put = (packet, done) => put(packet.cmd === 'publish' ? { ...packet, dup: true } : packet, done);
  const client = mqtt.connect(url, { clientId: name, outgoingStore, clean: false, reconnectPeriod: 50, connectTimeout: 5_000, keepalive: 0 });
  client.on('error', () => undefined);
  const open = new Set<Promise<unknown>>();
  for (const { topic, payload } of list) {
    const published = client.publishAsync(topic, payload, { qos: 1 }).then(acknowledged);
    open.add(published);
    void published.finally(() => open.delete(published));
    if (open.size >= window) await Promise.race(open);
  }
  await Promise.all(open);
  await client.endAsync();
}

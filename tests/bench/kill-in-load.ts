import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { carriageName } from './bench-messages.js';
import { queueCarriages, identityIn, type Consumer, type Running } from './queue-consumers.js';

const everyMs = 5;
/** Of the messages, stored. */
export const killAt = 0.3;
/** ms without a message after which the broker has nothing more to hand over. */
const quiet = 2_000;

export interface KillFindings {
  readonly stored: number;
  readonly handedOverAgain: number;
  /** Readings that were acknowledged to the broker and are not in the store. */
  readonly lost: number;
}

/** Ends a consumer in the middle of its work with SIGKILL, and looks for every reading: in its store, or still with the broker. */
export async function killInLoad(consumer: Consumer, running: Running, folder: string, brokerPort: number, messages: number): Promise<KillFindings> {
  while ((await running.done()) < messages * killAt) await wait(everyMs);
  await running.kill();
  const again = await leftWithBroker(brokerPort, consumer.clientId);
  const stored = consumer.stored(folder);
  let lost = 0;
  for (let index = 0; index < queueCarriages; index += 1) {
    for (let seq = 0; seq < messages / queueCarriages; seq += 1) {
      const identity = identityIn(carriageName(index), seq);
      if (!stored.has(identity) && !again.has(identity)) lost += 1;
    }
  }
  return { stored: stored.size, handedOverAgain: again.size, lost };
}

/** What the broker still keeps in that session, received by a client of the same name. */
async function leftWithBroker(port: number, clientId: string): Promise<ReadonlySet<string>> {
  const found = new Set<string>();
  let heardAt = performance.now();
  const client = mqtt.connect(`mqtt://127.0.0.1:${port}`, { clientId, clean: false, reconnectPeriod: 0 });
  client.on('message', (topic, payload) => {
    heardAt = performance.now();
    const [, , carriage = '', kind] = topic.split('/');
    if (kind === 'readings') found.add(identityIn(carriage, (JSON.parse(payload.toString()) as { seq: number }).seq));
  });
  while (performance.now() - heardAt < quiet) await wait(100);
  await client.endAsync(true);
  return found;
}

import type { BrokerTarget } from '../../ingest/mqtt/broker-target.js';
import { ok, wrong, type Finding } from './finding.js';
import { openProbe, type ProbeClient } from './probe-client.js';

/** Messages with the length of one reading (bytes) that are sent to a session that is away: more than brokers with small limits keep. */
const probes = 5_000;
const length = 200;
/** The most messages on their way to the broker at a time. */
const window = 250;
/** ms after which a slow broker gets no more messages. */
const within = 20_000;
/** Messages that are all left unacknowledged when the connection is lost. */
const few = 20;

/** Whether a session outlives its connection, with messages that arrive meanwhile and unacknowledged ones; and how much it holds. */
export async function probeQueue(target: BrokerTarget, clientId: string, topic: string, sender: ProbeClient): Promise<Finding[]> {
  const session = await openProbe(target, { clientId, clean: false });
  const granted = await session.subscribe(topic);
  if (granted !== 1) {
    await session.end();
    return [wrong(granted > 2 ? 'does not let this account subscribe' : `gives a subscription QoS ${granted} only: what is sent while the service is away is lost`)];
  }
  await session.end();
  const kept = await keepsSession(target, clientId, topic, sender);
  if (kept.state === 'wrong') return [kept];
  return [kept, await keepsMany(target, clientId, topic, sender)];
}

async function keepsSession(target: BrokerTarget, clientId: string, topic: string, sender: ProbeClient): Promise<Finding> {
  for (let n = 0; n < few; n += 1) await sender.publish(topic, `few ${n}`);
  const blind = await openProbe(target, { clientId, clean: false, acknowledge: false });
  const { sessionPresent } = blind.connack;
  await blind.arrived(1);
  await blind.cut();
  if (!sessionPresent) return wrong('forgets a session when its client disconnects (MQTT 3.1.1, clean session off): what carriages send while the service is away is lost');
  const again = await openProbe(target, { clientId, clean: false });
  await again.arrived(few);
  await again.end();
  const came = distinct(again, 'few ');
  if (blind.received.length === 0 || came < few) {
    return wrong(`brought ${came} of ${few} messages that were sent while the session was away and that were never acknowledged: the others are lost`);
  }
  return ok('keeps the session of a client that is away, and brings again what was not acknowledged when a connection was lost');
}

async function keepsMany(target: BrokerTarget, clientId: string, topic: string, sender: ProbeClient): Promise<Finding> {
  const end = performance.now() + within;
  let sent = 0;
  while (sent < probes && performance.now() < end) {
    const group = Array.from({ length: Math.min(window, probes - sent) }, (_, n) => `many ${sent + n} `.padEnd(length, '.'));
    await Promise.all(group.map((payload) => sender.publish(topic, payload)));
    sent += group.length;
  }
  const back = await openProbe(target, { clientId, clean: false });
  await back.arrived(sent);
  await back.end();
  const came = distinct(back, 'many ');
  if (came === sent) return ok(`keeps at least ${sent} messages of ${length} bytes for a session that is away`);
  return wrong(
    `kept ${came} of ${sent} messages of ${length} bytes for a session that is away, and dropped the others after it had acknowledged them: ` +
      `with 4 carriages at 10 Hz that is ${Math.floor(came / 40)} s (in Mosquitto: max_queued_messages, max_queued_bytes)`,
  );
}

function distinct({ received }: ProbeClient, begin: string): number {
  return new Set(received.map(({ payload }) => payload.toString()).filter((text) => text.startsWith(begin))).size;
}

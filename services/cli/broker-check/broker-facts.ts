import { setTimeout as wait } from 'node:timers/promises';
import type { BrokerTarget } from '../../ingest/mqtt/broker-target.js';
import { note, wrong, type Finding } from './finding.js';
import { openProbe } from './probe-client.js';

/** How long the service wants its session kept, s: seven days. */
const wanted = 7 * 24 * 3_600;
/** A shorter time is no longer than a restart takes; common practice, no source. */
const least = 3_600;

/** What the broker reports about its limits when a client connects with MQTT 5 (section 3.2.2.3); nothing if it speaks only 3.1.1. */
export async function reportedLimits(target: BrokerTarget, clientId: string): Promise<Finding[]> {
  const properties = { sessionExpiryInterval: wanted };
  let client;
  try {
    client = await openProbe(target, { clientId, clean: true, more: { protocolVersion: 5, properties } });
  } catch {
    return [];
  }
  const told = client.connack.properties ?? {};
  await client.end();
  await endSession(target, clientId);
  const found: Finding[] = [];
  const kept = told.sessionExpiryInterval ?? wanted;
  if (kept < least) found.push(wrong(`keeps a session for ${kept} s only: what carriages send in a longer absence of the service is lost`));
  else if (kept < wanted) found.push(note(`keeps a session for ${kept} s`));
  // MQTT 5, 3.2.2.3.4: absent where QoS 2 is supported.
  if (told.maximumQoS === 0) found.push(wrong('grants QoS 0 only: nothing is acknowledged'));
  return found;
}

/** Brings an end to a session that the broker may have kept (MQTT 3.1.1, 3.1.2.4). */
export async function endSession(target: BrokerTarget, clientId: string): Promise<void> {
  const client = await openProbe(target, { clientId, clean: true });
  await client.end();
}

const asked = ['version', 'uptime', 'publish/messages/dropped', 'clients/expired'] as const;

/** What the broker publishes about itself below `$SYS`, as Mosquitto and others do; no standard requires it. */
export async function systemTopics(target: BrokerTarget, clientId: string): Promise<Finding[]> {
  const client = await openProbe(target, { clientId, clean: true });
  for (const name of asked) await client.subscribe(`$SYS/broker/${name}`);
  // Retained ones come at once.
  await client.arrived(asked.length, 1_000);
  await wait(50);
  await client.end();
  const said = new Map(client.received.map(({ topic, payload }) => [topic.slice('$SYS/broker/'.length), payload.toString()]));
  const version = said.get('version');
  const unseen = 'whether it writes sessions and queues to disk, and so keeps them over its own restart, cannot be seen from outside (in Mosquitto: persistence true)';
  if (version === undefined) return [note(`tells nothing of itself below $SYS; ${unseen}`)];
  const dropped = Number(said.get('publish/messages/dropped') ?? 0);
  const expired = Number(said.get('clients/expired') ?? 0);
  const lost = [
    ...(dropped > 0 ? [`it has dropped ${dropped} messages since it was started`] : []),
    ...(expired > 0 ? [`${expired} sessions have expired`] : []),
  ];
  return [note([`is ${version}, up for ${said.get('uptime') ?? '?'}`, ...lost, unseen].join('; '))];
}

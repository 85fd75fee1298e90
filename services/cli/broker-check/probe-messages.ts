import type { BrokerTarget } from '../../ingest/mqtt/broker-target.js';
import { ok, reasonOf, wrong, type Finding } from './finding.js';
import { openProbe, type ProbeClient } from './probe-client.js';

const kibi = 1024;
/** Bytes; the first is the longest message that carriages may send. */
const sizes = [1024 * kibi, 256 * kibi, 64 * kibi, 16 * kibi, 4 * kibi, kibi] as const;

/** Whether the account may publish and subscribe below `base`, and publish the `stored` mark. If not, nothing else can be tried. */
export async function probeRights(target: BrokerTarget, clientId: string, base: string, sender: ProbeClient): Promise<Finding> {
  const listener = await openProbe(target, { clientId, clean: true });
  const topics = (): string[] => listener.received.map(({ topic }) => topic);
  try {
    const probe = `${base}/rights/probe`;
    const granted = await listener.subscribe(`${base}/#`);
    // Brokers drop what an account may not publish, or end the connection.
    const reason = await sender.publish(probe, 'probe').then(() => null, reasonOf);
    if (reason === null && granted <= 2) await listener.arrived(1);
    if (!topics().includes(probe)) {
      const why = reason === null ? '' : ` (${reason})`;
      return wrong(`does not pass on what this account publishes with QoS 1 to ${base.replace(/[^/]+$/, '#')}${why}, so nothing could be tried; the account needs that topic beside weld/+/+/+`);
    }
    await sender.publish(`${base}/stored`, '{"boots":[]}').catch(() => undefined);
    await listener.arrived(2);
    if (topics().includes(`${base}/stored`)) return ok('lets this account publish and subscribe');
    return wrong('does not pass on the `stored` mark that this account publishes: carriages would never learn what they may endSession');
  } finally {
    await listener.end();
  }
}

/** Whether a retained message is kept for later subscribers: assignments, states of carriages, the `stored` mark. */
export async function probeRetained(target: BrokerTarget, id: string, topic: string): Promise<Finding> {
  const none = (why: string): Finding => wrong(`${why}: assignments and the \`stored\` mark are lost for everybody who connects after they were sent`);
  try {
    const sender = await openProbe(target, { clientId: `${id}-retains`, clean: true });
    await sender.publish(topic, 'kept', true);
    await sender.end();
  } catch (thrown) {
    return none(`accepts no retained messages (${reasonOf(thrown)})`);
  }
  const later = await openProbe(target, { clientId: `${id}-later`, clean: true });
  try {
    await later.subscribe(topic);
    await later.arrived(1);
    const found = later.received.some(({ retained, payload }) => retained && payload.toString() === 'kept');
    return found ? ok('keeps retained messages') : none('keeps no retained messages');
  } finally {
    await later.publish(topic, '', true).catch(() => undefined);
    await later.end();
  }
}

/** Whether the longest message that carriages may send gets through, and if not, which one does. */
export async function probeSizes(target: BrokerTarget, id: string, topic: string): Promise<Finding> {
  let how = '';
  for (const size of sizes) {
    const outcome = await throughput(target, id, topic, size);
    if (outcome === null) {
      if (size === sizes[0]) return ok(`lets messages of ${kibi} KiB through, the longest that are accepted`);
      return wrong(`${how}; messages of ${size / kibi} KiB get through (in Mosquitto: message_size_limit, max_packet_size)`);
    }
    how = how === '' ? outcome : how;
  }
  return wrong(how);
}

/** Null if a message of that many bytes arrives, otherwise what became of it. */
async function throughput(target: BrokerTarget, id: string, topic: string, size: number): Promise<string | null> {
  const listener = await openProbe(target, { clientId: `${id}-hears`, clean: true });
  const sender = await openProbe(target, { clientId: `${id}-sends`, clean: true });
  const begun = `a message of ${size / kibi} KiB`;
  try {
    await listener.subscribe(topic);
    await sender.publish(topic, Buffer.alloc(size, 'x'));
    const whole = await listener.arrived(1);
    return whole && listener.received[0]?.payload.length === size ? null : `acknowledges ${begun} and then drops it: it is lost`;
  } catch (thrown) {
    return `does not take ${begun} (${reasonOf(thrown)}): a carriage would send it for ever`;
  } finally {
    await sender.cut();
    await listener.cut();
  }
}

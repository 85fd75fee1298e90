import { randomBytes } from 'node:crypto';
import { brokerTarget } from '../../ingest/mqtt/broker-target.js';
import { endSession, reportedLimits, systemTopics } from './broker-facts.js';
import { note, ok, reasonOf, wrong, type Finding } from './finding.js';
import { openProbe, type ProbeClient } from './probe-client.js';
import { probeRetained, probeRights, probeSizes } from './probe-messages.js';
import { probeQueue } from './probe-queue.js';

/**
 * A site that no carriage has; the topics below it have one part more than those the service subscribes to, so that a service
 * that runs at the same broker gets none of them, except a `stored` mark, which it ignores.
 */
const probeSite = 'weld/seamwarden-check';

/** Tests what would lose data at an outside broker, with sessions and topics of its own, and removes them. */
export async function checkBroker(url: string): Promise<Finding[]> {
  const target = brokerTarget(url);
  const tag = randomBytes(6).toString('hex');
  const id = `seamwarden-check-${tag}`;
  const base = `${probeSite}/${tag}`;
  let sender: ProbeClient;
  try {
    sender = await openProbe(target, { clientId: `${id}-speaks`, clean: true });
  } catch (thrown) {
    return [wrong(`cannot be reached: ${reasonOf(thrown)}`)];
  }
  const found: Finding[] = [ok('answers')];
  try {
    const rights = await probeRights(target, `${id}-listens`, base, sender);
    found.push(rights);
    if (rights.state === 'ok') {
      found.push(...(await probeQueue(target, id, `${base}/queue/probe`, sender)));
      found.push(await probeRetained(target, id, `${base}/retained/probe`));
      found.push(await probeSizes(target, id, `${base}/size/probe`));
    }
    found.push(...(await reportedLimits(target, `${id}-asks`)), ...(await systemTopics(target, `${id}-reads`)));
  } catch (thrown) {
    found.push(wrong(`broke off: ${reasonOf(thrown)}`));
  } finally {
    await sender.end().catch(() => undefined);
    await endSession(target, id).catch(() => found.push(note(`may still have the session ${id} of this check`)));
  }
  return found;
}

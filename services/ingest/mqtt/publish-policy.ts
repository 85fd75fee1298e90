const NAME = /^[A-Za-z0-9_-]{1,64}$/;

/** The kinds that only the service itself publishes. */
const OWN_KINDS: ReadonlySet<string> = new Set(['live', 'alarms', 'stored']);

/** The kinds that a broker may retain: the state of a carriage, never a measurement. */
const KEPT_KINDS: ReadonlySet<string> = new Set(['assignment', 'status']);

/** Whether only the service itself publishes on a topic (`weld/SITE/CARRIAGE/live`, `alarms`, `stored`). */
export function isOwnTopic(topic: string): boolean {
  // This runs for every message: most are of another kind, which the end of the topic alone shows.
  if (!OWN_KINDS.has(topic.slice(topic.lastIndexOf('/') + 1))) return false;
  const parts = topic.split('/');
  return parts.length === 4 && parts[0] === 'weld';
}

export interface PublishPolicy {
  /** Whether ingest gets the message; ingest refuses what it cannot use, and so the refusal is stored. */
  readonly handOn: boolean;
  /** Whether other subscribers get the message. */
  readonly distribute: boolean;
  /** Whether the broker may retain the message if the sender asks for it. */
  readonly retain: boolean;
}

/** What the embedded broker does with a message from a client; null if the client may not publish there at all. */
export function publishPolicy(topic: string): PublishPolicy | null {
  if (topic.startsWith('$')) return null;
  const parts = topic.split('/');
  if (parts[0] !== 'weld') return { handOn: false, distribute: true, retain: true };
  const [, site = '', carriage = '', kind = ''] = parts;
  const named = parts.length === 4 && NAME.test(site) && NAME.test(carriage);
  return { handOn: true, distribute: !isOwnTopic(topic), retain: named && KEPT_KINDS.has(kind) };
}

/** Memory of a retained message besides its topic and payload, bytes: 740 were measured for a message of one byte, with all of its entries. */
const costOfOne = 1_024;

/**
 * Bounds the memory that clients can fill in the embedded broker with retained messages.
 *
 * @returns a function that says whether a retained message of `size` bytes on `topic` still fits; an empty one frees its place and always fits.
 */
export function retainedBudget(mostBytes: number): (topic: string, size: number) => boolean {
  const kept = new Map<string, number>();
  let total = 0;
  return (topic, size) => {
    const before = kept.get(topic) ?? 0;
    const cost = size === 0 ? 0 : size + Buffer.byteLength(topic) + costOfOne;
    if (total - before + cost > mostBytes) return false;
    total += cost - before;
    if (cost === 0) kept.delete(topic);
    else kept.set(topic, cost);
    return true;
  };
}

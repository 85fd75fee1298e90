import { setTimeout as wait } from 'node:timers/promises';
import { processTime } from '../faults/service-process.js';

const everyMs = 50;
/** s without progress after which something is broken. */
const patience = 60;

export interface Drain {
  readonly perSecond: number;
  /** Processor time of the consumer, µs a message. */
  readonly cpu: number;
}

interface Sample {
  readonly at: number;
  readonly count: number;
  readonly cpu: number;
}

/**
 * Watches a consumer empty a queue: from the first look that finds something done to the last one before all is done, so that the
 * time between two looks falsifies nothing. Where it is done within one look, that look counts.
 */
export async function watchDrain(total: number, pid: number, done: () => Promise<number>): Promise<Drain> {
  const samples: Sample[] = [];
  let movedAt = performance.now();
  for (;;) {
    const count = await done();
    const now = performance.now();
    const before = samples.at(-1);
    if (count > (before?.count ?? 0)) {
      samples.push({ at: now, count, cpu: processTime(pid) });
      movedAt = now;
    }
    if (count >= total) break;
    if (now - movedAt > patience * 1e3) throw new Error(`stuck at ${before?.count ?? 0} of ${total} messages`);
    await wait(everyMs);
  }
  const [first] = samples;
  const last = samples.length > 4 ? samples.at(-2) : samples.at(-1);
  if (first === undefined || last === undefined || last.count === first.count) return { perSecond: Number.NaN, cpu: Number.NaN };
  const messages = last.count - first.count;
  return { perSecond: (messages / (last.at - first.at)) * 1e3, cpu: (last.cpu - first.cpu) / messages };
}

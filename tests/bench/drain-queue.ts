import { setTimeout as wait } from 'node:timers/promises';
import { processTime, scratchDir } from '../faults/service-process.js';
import type { Mosquitto } from '../ingest/mqtt/start-mosquitto.js';
import type { MessageKind } from './bench-messages.js';
import { queueCarriages, type Consumer, type Running } from './queue-consumers.js';
import { quietMosquitto } from './quiet-mosquitto.js';
import { sendLoad } from './send-load.js';

const everyMs = 20;
/** s without progress after which something is broken. */
const patience = 60;
/** Does not wait for the last messages, as a side that stores in batches keeps them for a timer. */
export const leftOut = 500;

export interface Drain {
  readonly perSecond: number;
  /** Processor time of the consumer, µs a message. */
  readonly cpu: number;
}

/** Fills a queue for the consumer at a broker of its own, starts it, and lets `work` look on. */
export async function withQueue<T>(
  consumer: Consumer,
  kind: MessageKind,
  messages: number,
  work: (running: Running, queue: { readonly folder: string; readonly broker: Mosquitto; readonly connected: () => boolean }) => Promise<T>,
): Promise<T> {
  const broker = await quietMosquitto();
  const dir = scratchDir();
  let running: Running | null = null;
  try {
    await consumer.prepare(dir.path, broker);
    const { acknowledged } = await sendLoad({ port: broker.port, kind, carriages: queueCarriages, count: messages / queueCarriages, window: 500 });
    if (acknowledged !== messages) throw new Error(`the broker took ${acknowledged} of ${messages} messages`);
    const before = broker.log().length;
    running = consumer.start(dir.path, broker);
    const connected = (): boolean => broker.log().slice(before).includes(` as ${consumer.clientId} (`);
    return await work(running, { folder: dir.path, broker, connected });
  } finally {
    await running?.kill();
    await broker.stop();
    dir.remove();
  }
}

/** How fast a queue is emptied: from the consumer's connecting to the broker until all but the last few are done with. */
export function drainQueue(consumer: Consumer, kind: MessageKind, messages: number): Promise<Drain> {
  return withQueue(consumer, kind, messages, async (running, { connected }) => {
    const { pid } = running;
    const started = performance.now();
    while (!connected()) {
      if (performance.now() - started > patience * 1e3) throw new Error(`${consumer.name} does not connect`);
      await wait(everyMs / 4);
    }
    const begun = performance.now();
    const cpuBefore = processTime(pid);
    const enough = Math.max(1, messages - leftOut);
    let before = { at: begun, count: 0 };
    let movedAt = begun;
    for (;;) {
      const count = await running.done();
      const at = performance.now();
      if (count >= enough) {
        // What is there now came since the look before; half of that time is as good a guess as any.
        const seconds = ((at + before.at) / 2 - begun) / 1e3;
        return { perSecond: count / seconds, cpu: (processTime(pid) - cpuBefore) / count };
      }
      if (count > before.count) movedAt = at;
      if (at - movedAt > patience * 1e3) throw new Error(`${consumer.name} is stuck at ${count} of ${messages} messages`);
      before = { at, count };
      await wait(everyMs);
    }
  });
}

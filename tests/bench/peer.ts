import { scratchDir } from '../faults/service-process.js';
import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import { killInLoad, type KillFindings } from './kill-in-load.js';
import { fillQueue, outsideCarriages } from './outside.js';
import { flowPeer, scriptPeer, service, type Consumer, type Running } from './peer-consumers.js';
import { installFlowEngine } from './peer-install.js';
import { peerBatch } from './peer-flow.js';
import { quietMosquitto } from './quiet-mosquitto.js';
import { ratios, spread } from './spread.js';
import { watchDrain, type Drain } from './watch-drain.js';

/** Fills a queue for the consumer at a broker of its own, starts it, and lets `work` look on. */
async function withQueue<T>(consumer: Consumer, messages: number, work: (running: Running, folder: string, brokerPort: number) => Promise<T>): Promise<T> {
  const broker = await quietMosquitto();
  const dir = scratchDir();
  let running: Running | null = null;
  try {
    await consumer.prepare(dir.path, broker);
    await fillQueue(broker, 'readings', messages);
    running = await consumer.start(dir.path, broker.port);
    return await work(running, dir.path, broker.port);
  } finally {
    await running?.kill();
    await broker.stop();
    dir.remove();
  }
}

/** The same work by general-purpose parts: what they take, and what is left of it after a kill. */
export async function peer(options: BenchOptions): Promise<readonly BenchTable[]> {
  const engine = installFlowEngine(options.say);
  const consumers = [service, ...(typeof engine === 'string' ? [] : [flowPeer(engine)]), scriptPeer];
  const drains = new Map<Consumer, Drain[]>(consumers.map((own) => [own, []]));
  const kills = new Map<Consumer, KillFindings[]>(consumers.map((own) => [own, []]));
  const messages = scaled(30_000, options);
  for (let round = 1; round <= Math.min(options.rounds, 3); round += 1) {
    for (const consumer of consumers) {
      options.say(`peer: ${consumer.name}, round ${round}`);
      drains.get(consumer)?.push(await withQueue(consumer, messages, (running) => watchDrain(messages, running.pid, () => running.done())));
      const count = messages / outsideCarriages;
      kills.get(consumer)?.push(await withQueue(consumer, messages, (running, folder, port) => killInLoad(consumer, running, folder, port, outsideCarriages, count)));
    }
  }
  const rates = (own: Consumer): number[] => drains.get(own)?.map(({ perSecond }) => perSecond) ?? [];
  const sums = (own: Consumer, of: (found: KillFindings) => number): string => spread(kills.get(own)?.map(of) ?? []);
  return [
    {
      title: `${messages} readings of ${outsideCarriages} carriages out of the queue of an outside broker`,
      header: ['', 'readings, 1/s', 'service to this', 'µs CPU each', 'killed at 40 %: in the store', 'still with the broker', 'lost'],
      rows: consumers.map((own) => [
        own.name,
        spread(rates(own)),
        own === service ? '–' : spread(ratios(rates(service), rates(own)), 2),
        spread(drains.get(own)?.map((drain) => drain.cpu) ?? [], 1),
        sums(own, ({ stored }) => stored),
        sums(own, ({ handedOverAgain }) => handedOverAgain),
        sums(own, ({ lost }) => lost),
      ]),
      notes: [
        `The peers do the least that makes sense: subscribe with QoS 1 in a session that is kept, sum U·I over time for each carriage, and store rows ${peerBatch.rows} at a time (or after ` +
          `${peerBatch.seconds} s) into SQLite with synced commits. They know no order, duplicates, runs, windows or alarms. Lost: acknowledged to the broker, and not in the store after SIGKILL. Goal: 10 times a flow, none lost.`,
        ...(typeof engine === 'string' ? [`The flow engine was not to be had (${engine}); the script stands alone.`] : []),
      ],
    },
  ];
}

import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import { drainQueue, leftOut, withQueue, type Drain } from './drain-queue.js';
import { killAt, killInLoad, type KillFindings } from './kill-in-load.js';
import { flowPeer, scriptPeer } from './peer-consumers.js';
import { peerBatch } from './peer-flow.js';
import { installFlowEngine } from './peer-install.js';
import { queueCarriages, service, type Consumer } from './queue-consumers.js';
import { ratios, spread } from './spread.js';

/** The same work by general-purpose parts: what they take, and what is left of it after a kill. */
export async function peer(options: BenchOptions): Promise<readonly BenchTable[]> {
  const engine = installFlowEngine(options.say);
  const consumers = [service, ...(typeof engine === 'string' ? [] : [flowPeer(engine)]), scriptPeer];
  const drains = new Map<Consumer, Drain[]>(consumers.map((own) => [own, []]));
  const kills = new Map<Consumer, KillFindings[]>(consumers.map((own) => [own, []]));
  const messages = scaled(30_000, options);
  for (let round = 1; round <= Math.min(options.rounds, 2); round += 1) {
    for (const consumer of consumers) {
      options.say(`peer: ${consumer.name}, round ${round}`);
      drains.get(consumer)?.push(await drainQueue(consumer, 'readings', messages));
      kills.get(consumer)?.push(await withQueue(consumer, 'readings', messages, (running, { folder, broker }) => killInLoad(consumer, running, folder, broker.port, messages)));
    }
  }
  const rates = (own: Consumer): number[] => drains.get(own)?.map(({ perSecond }) => perSecond) ?? [];
  const sums = (own: Consumer, of: (found: KillFindings) => number): string => spread(kills.get(own)?.map(of) ?? []);
  return [
    {
      title: `${messages} readings of ${queueCarriages} carriages out of the queue of an outside broker`,
      header: ['', 'readings, 1/s', 'service to this', 'µs CPU each', `killed with ${killAt * 100} % stored: in the store`, 'still with the broker', 'lost'],
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
          `${peerBatch.seconds} s) into SQLite with synced commits. Timed from connecting until all but the last ${leftOut} are stored. They know no order, duplicates, runs, windows or alarms. Lost: acknowledged to the broker, and not in the store after SIGKILL. Goal: 10 times a flow, none lost.`,
        ...(typeof engine === 'string' ? [`The flow engine was not to be had (${engine}); the script stands alone.`] : []),
      ],
    },
  ];
}

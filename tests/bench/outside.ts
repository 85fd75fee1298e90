import { blockSamples } from './bench-messages.js';
import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import { drainQueue, leftOut, type Drain } from './drain-queue.js';
import { bareSubscriber, queueCarriages, service } from './queue-consumers.js';
import { ratios, spread } from './spread.js';

/** Durable ingest from an outside broker, beside a subscriber at the same broker that decodes nothing and acknowledges at once. */
export async function outside(options: BenchOptions): Promise<readonly BenchTable[]> {
  const rows: string[][] = [];
  for (const [kind, messages, goal] of [['readings', scaled(200_000, options), 0.9], ['blocks', scaled(30_000, options), 0.8]] as const) {
    const own: Drain[] = [];
    const bare: Drain[] = [];
    for (let round = 1; round <= options.rounds; round += 1) {
      options.say(`outside: ${kind}, round ${round} of ${options.rounds}`);
      own.push(await drainQueue(service, kind, messages));
      bare.push(await drainQueue(bareSubscriber, kind, messages));
    }
    const rates = (drains: readonly Drain[]): number[] => drains.map(({ perSecond }) => perSecond);
    const cpu = (drains: readonly Drain[]): string => spread(drains.map((drain) => drain.cpu), 1);
    const ratio = spread(ratios(rates(own), rates(bare)), 2);
    rows.push([kind, String(messages), spread(rates(own)), spread(rates(bare)), ratio, String(goal), cpu(own), cpu(bare)]);
  }
  return [
    {
      title: `Durable ingest from an outside broker: a queue of ${queueCarriages} carriages is emptied`,
      header: ['messages', 'count', 'service, 1/s', 'bare subscriber, 1/s', 'ratio', 'goal', 'service, µs CPU each', 'bare, µs CPU each'],
      rows,
      notes: [
        `Timed from connecting to the broker until all but the last ${leftOut} are done with. Each carriage welds a run by a procedure with windows on everything; a block has ${blockSamples} samples of 1 ms. The service has done ` +
          'with a message when it is committed and synced, the bare subscriber (MQTT.js) when it has seen it. Both start anew for each round, so that warming up counts for both; the service, which has far more code, needs about 100,000 readings for that. Where the ratio is near 1 the broker sets the pace: processor time says more.',
      ],
    },
  ];
}

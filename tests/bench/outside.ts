import { scratchDir, startProcess } from '../faults/service-process.js';
import type { Mosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { assignedService, storedItems } from './assigned-service.js';
import { startChild } from './bench-child.js';
import { blockSamples, type MessageKind } from './bench-messages.js';
import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import { quietMosquitto } from './quiet-mosquitto.js';
import { sendLoad } from './send-load.js';
import { ratios, spread } from './spread.js';
import { watchDrain, type Drain } from './watch-drain.js';

export const outsideCarriages = 10;
const window = 500;

/** Fills the session's queue at the broker while its owner is away. */
export async function fillQueue(broker: Mosquitto, kind: MessageKind, messages: number): Promise<void> {
  const count = messages / outsideCarriages;
  const { acknowledged } = await sendLoad({ port: broker.port, kind, carriages: outsideCarriages, count, window });
  if (acknowledged !== messages) throw new Error(`the broker took ${acknowledged} of ${messages} messages`);
}

/** The service empties its queue at an outside broker. */
export async function serviceDrain(kind: MessageKind, messages: number): Promise<Drain> {
  const broker = await quietMosquitto();
  const dir = scratchDir();
  const env = { SEAMWARDEN_MQTT_URL: broker.url };
  try {
    const { process } = await assignedService(dir.path, outsideCarriages, env);
    await process.kill('SIGTERM');
    await fillQueue(broker, kind, messages);
    const service = startProcess({ dataDir: dir.path, env });
    try {
      const addresses = await service.listening;
      return await watchDrain(messages, service.pid, () => storedItems(addresses));
    } finally {
      await service.kill('SIGTERM');
    }
  } finally {
    await broker.stop();
    dir.remove();
  }
}

/** A subscriber empties the same queue and does nothing with it. */
async function bareDrain(kind: MessageKind, messages: number): Promise<Drain> {
  const broker = await quietMosquitto();
  const options = { url: broker.url, clientId: 'bare' };
  try {
    const first = startChild('bare-subscriber-process.ts', options);
    await first.hear();
    await first.kill();
    await fillQueue(broker, kind, messages);
    const bare = startChild('bare-subscriber-process.ts', options);
    try {
      await bare.hear();
      return await watchDrain(messages, bare.pid, async () => {
        bare.say('count');
        return (await bare.hear()) as number;
      });
    } finally {
      await bare.kill();
    }
  } finally {
    await broker.stop();
  }
}

/** Durable ingest from an outside broker, beside a subscriber at the same broker that decodes nothing and acknowledges at once. */
export async function outside(options: BenchOptions): Promise<readonly BenchTable[]> {
  const rows: string[][] = [];
  for (const [kind, messages, goal] of [['readings', scaled(60_000, options), 0.9], ['blocks', scaled(8_000, options), 0.8]] as const) {
    const service: Drain[] = [];
    const bare: Drain[] = [];
    for (let round = 1; round <= options.rounds; round += 1) {
      options.say(`outside: ${kind}, round ${round} of ${options.rounds}`);
      service.push(await serviceDrain(kind, messages));
      bare.push(await bareDrain(kind, messages));
    }
    const rates = (drains: readonly Drain[]): number[] => drains.map((own) => own.perSecond);
    const cpu = (drains: readonly Drain[]): string => spread(drains.map((own) => own.cpu), 1);
    const ratio = spread(ratios(rates(service), rates(bare)), 2);
    rows.push([kind, String(messages), spread(rates(service)), spread(rates(bare)), ratio, String(goal), cpu(service), cpu(bare)]);
  }
  return [
    {
      title: `Durable ingest from an outside broker: a queue of ${outsideCarriages} carriages is emptied`,
      header: ['messages', 'count', 'service, 1/s', 'bare subscriber, 1/s', 'ratio', 'goal', 'service, µs CPU each', 'bare, µs CPU each'],
      rows,
      notes: [
        `Each carriage welds a run by a procedure with windows on everything. A block has ${blockSamples} samples of 1 ms. The service counts a message once it is synced; the bare subscriber ` +
          '(MQTT.js) once it has seen it. Both start anew for each round, so that warming up counts for both. Where the ratio is near 1 the broker sets the pace: processor time says more.',
      ],
    },
  ];
}

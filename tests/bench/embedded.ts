import { scratchDir } from '../faults/service-process.js';
import { assignedService, storedItems } from './assigned-service.js';
import { startChild } from './bench-child.js';
import type { MessageKind } from './bench-messages.js';
import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import { processTime } from '../faults/service-process.js';
import { sendLoad } from './send-load.js';
import { ratios, spread } from './spread.js';

const carriages = 10;
/** Together what the service lets be unacknowledged at a time. */
const window = 400;

interface Taken {
  readonly perSecond: number;
  /** µs of processor time a message. */
  readonly cpu: number;
}

async function load(port: number, pid: number, kind: MessageKind, messages: number): Promise<Taken> {
  const before = processTime(pid);
  const { acknowledged, seconds } = await sendLoad({ port, kind, carriages, count: messages / carriages, window });
  if (acknowledged !== messages) throw new Error(`${acknowledged} of ${messages} messages were acknowledged`);
  return { perSecond: messages / seconds, cpu: (processTime(pid) - before) / messages };
}

async function serviceTakes(kind: MessageKind, messages: number): Promise<Taken> {
  const dir = scratchDir();
  const { process, addresses } = await assignedService(dir.path, carriages);
  try {
    const taken = await load(Number(new URL(addresses.mqtt).port), process.pid, kind, messages);
    const stored = await storedItems(addresses);
    if (stored !== messages) throw new Error(`${messages} messages were acknowledged, ${stored} are stored`);
    return taken;
  } finally {
    await process.kill('SIGTERM');
    dir.remove();
  }
}

async function bareTakes(kind: MessageKind, messages: number): Promise<Taken> {
  const bare = startChild('bare-broker-process.ts', {});
  try {
    return await load((await bare.hear()) as number, bare.pid, kind, messages);
  } finally {
    await bare.kill();
  }
}

/** Durable ingest through the broker that comes along, beside the same broker library that acknowledges at once. */
export async function embedded(options: BenchOptions): Promise<readonly BenchTable[]> {
  const rows: string[][] = [];
  for (const [kind, messages, goal] of [['readings', scaled(150_000, options), 0.5], ['blocks', scaled(24_000, options), 0.35]] as const) {
    const service: Taken[] = [];
    const bare: Taken[] = [];
    for (let round = 1; round <= options.rounds; round += 1) {
      options.say(`embedded: ${kind}, round ${round} of ${options.rounds}`);
      service.push(await serviceTakes(kind, messages));
      bare.push(await bareTakes(kind, messages));
    }
    const rates = (taken: readonly Taken[]): number[] => taken.map((own) => own.perSecond);
    const cpu = (taken: readonly Taken[]): string => spread(taken.map((own) => own.cpu), 1);
    const ratio = spread(ratios(rates(service), rates(bare)), 2);
    rows.push([kind, String(messages), spread(rates(service)), spread(rates(bare)), ratio, String(goal), cpu(service), cpu(bare)]);
  }
  return [
    {
      title: `Durable ingest through the embedded broker: ${carriages} carriages send as fast as they are acknowledged`,
      header: ['messages', 'count', 'service, 1/s', 'bare broker, 1/s', 'ratio', 'goal', 'service, µs CPU each', 'bare, µs CPU each'],
      rows,
      notes: [`From the first message to the last PUBACK, ${window} messages of each carriage on their way. The bare broker is the same library (aedes); its PUBACK says nothing of a disk.`],
    },
  ];
}

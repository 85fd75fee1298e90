import { join } from 'node:path';
import { heapGrowthPercent, youngGenerationMb } from '../../services/ingest/thread/heap-bounds.js';
import { scratchDir } from '../faults/service-process.js';
import { startChild } from './bench-child.js';
import { blockSamples, type MessageKind } from './bench-messages.js';
import { scaled, type BenchOptions, type BenchTable } from './bench-part.js';
import type { CpuFigures, CpuPlan } from './cpu-process.js';
import { spread } from './spread.js';

const carriages = 10;
/* A service runs for months: with fewer messages, up to a third of the time measured is the engine's compiling. */
const cases: readonly { readonly kind: MessageKind; readonly batch: number; readonly messages: number; readonly goal: string }[] = [
  { kind: 'readings', batch: 2_000, messages: 400_000, goal: '12' },
  { kind: 'readings', batch: 200, messages: 400_000, goal: '–' },
  { kind: 'readings', batch: 20, messages: 160_000, goal: '–' },
  { kind: 'blocks', batch: 200, messages: 60_000, goal: '–' },
];

async function figures(plan: Omit<CpuPlan, 'file'>): Promise<CpuFigures> {
  const dir = scratchDir();
  const child = startChild('cpu-process.ts', { ...plan, file: join(dir.path, 'seamwarden.db') }, [`--max-semi-space-size=${youngGenerationMb / 3}`, `--heap-growing-percent=${heapGrowthPercent}`]);
  try {
    return (await child.hear()) as CpuFigures;
  } finally {
    await child.kill();
    dir.remove();
  }
}

/** Processor time of a message with all computation and storage, without the broker's and the sockets'. */
export async function cpu(options: BenchOptions): Promise<readonly BenchTable[]> {
  const rows: string[][] = [];
  const found = new Map(cases.map((own) => [own, [] as CpuFigures[]]));
  for (let round = 1; round <= options.rounds; round += 1) {
    for (const own of cases) {
      options.say(`cpu: ${own.kind} in commits of ${own.batch}, round ${round} of ${options.rounds}`);
      found.get(own)?.push(await figures({ kind: own.kind, batch: own.batch, carriages, count: scaled(own.messages, options) / carriages }));
    }
  }
  for (const { kind, batch, goal } of cases) {
    const own = [...found].find(([one]) => one.kind === kind && one.batch === batch)?.[1] ?? [];
    rows.push([kind, String(batch), spread(own.map(({ all }) => all), 1), spread(own.map(({ decode }) => decode), 1), goal]);
  }
  return [
    {
      title: 'Processor time of the ingest core: decode, order, fold, windows, records, commit',
      header: ['messages', 'in a commit', 'µs CPU each', 'of it decoding, µs', 'goal, µs'],
      rows,
      notes: [
        `${carriages} carriages, each in a run by a procedure with windows on everything; recorder and store in one process, fed directly. All threads' user and system time, the garbage ` +
          `collector's too, after a third of the messages as warming up. A block has ${blockSamples} samples. Commits are small where little comes: then each message costs more, and there is time for it.`,
      ],
    },
  ];
}

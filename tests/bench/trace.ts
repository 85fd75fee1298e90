import { join } from 'node:path';
import { scratchDir, startProcess } from '../faults/service-process.js';
import { startChild, type BenchChild } from './bench-child.js';
import type { BenchOptions, BenchTable } from './bench-part.js';
import { dropCaches, noDropCaches } from './drop-caches.js';
import { makeStore, runRows } from './made-store.js';
import { spread } from './spread.js';
import type { TraceOrder } from './trace-process.js';

const points = 1_500;
const warmUps = 40;

interface Times {
  readonly title: string;
  readonly trace: number[];
  readonly row: number[];
}

async function ask(child: BenchChild, what: TraceOrder['what'], run: string): Promise<number> {
  child.say(JSON.stringify({ what, run } satisfies TraceOrder));
  return (await child.hear()) as number;
}

/** Runs from all over the file, in an order in which none comes twice. */
function* scattered(runs: readonly string[]): Generator<string> {
  for (let n = 0; ; n += 1) yield runs[(n * 101 + 7) % runs.length] ?? '';
}

async function measureStore(rows: number, options: BenchOptions): Promise<string[][]> {
  const dir = scratchDir();
  try {
    options.say(`trace: a store of ${rows} rows is made`);
    const runs = makeStore(dir.path, Math.ceil(rows / runRows));
    const next = scattered(runs);
    const run = (): string => next.next().value as string;
    const start = (): Promise<BenchChild> => started({ file: join(dir.path, 'seamwarden.db'), start: Date.UTC(2026, 10, 2, 6) * 1e3, points });
    const cold: Times = { title: 'cold file, new process (its code is run for the first time)', trace: [], row: [] };
    const coldFile: Times = { title: 'cold file, code that has run before', trace: [], row: [] };
    const warm: Times = { title: 'warm', trace: [], row: [] };
    const http: Times = { title: 'over HTTP, warm', trace: [], row: [] };
    const httpCold: Times = { title: 'over HTTP, cold file', trace: [], row: [] };
    const rounds = options.rounds * 2;
    options.say('trace: read');
    if (noDropCaches() === null) {
      for (let round = 0; round < rounds; round += 1) {
        for (const what of ['trace', 'row'] as const) {
          const child = await start();
          dropCaches();
          cold[what].push(await ask(child, what, run()));
          await child.kill();
        }
      }
    }
    const child = await start();
    for (let n = 0; n < warmUps; n += 1) for (const what of ['trace', 'row'] as const) await ask(child, what, run());
    for (let round = 0; round < rounds; round += 1) {
      for (const what of ['trace', 'row'] as const) {
        const own = run();
        if (noDropCaches() === null) {
          await ask(child, 'open', own);
          dropCaches();
          coldFile[what].push(await ask(child, what, own));
        } else await ask(child, what, own);
        warm[what].push(await ask(child, what, own));
      }
    }
    await child.kill();
    await overHttp(dir.path, run, rounds, http, httpCold);
    const million = (rows / 1e6).toFixed(rows < 1e6 ? 2 : 0);
    return [cold, coldFile, warm, httpCold, http].map(({ title, trace, row }) => [`${million} million rows: ${title}`, spread(trace, 1), spread(row, 2)]);
  } finally {
    dir.remove();
  }
}

async function started(options: object): Promise<BenchChild> {
  const child = startChild('trace-process.ts', options);
  await child.hear();
  return child;
}

async function overHttp(dataDir: string, run: () => string, rounds: number, http: Times, httpCold: Times): Promise<void> {
  const service = startProcess({ dataDir });
  try {
    const addresses = await service.listening;
    const get = async (own: string): Promise<number> => {
      const begun = performance.now();
      const response = await fetch(`${addresses.http}/api/runs/${own}/trace?points=${points}`);
      const text = await response.text();
      const took = performance.now() - begun;
      if (!response.ok) throw new Error(`the trace answered ${response.status}: ${text.slice(0, 200)}`);
      return took;
    };
    for (let n = 0; n < warmUps; n += 1) await get(run());
    for (let round = 0; round < rounds; round += 1) {
      const own = run();
      if (noDropCaches() === null) {
        dropCaches();
        httpCold.trace.push(await get(own));
      } else await get(own);
      http.trace.push(await get(own));
    }
  } finally {
    await service.kill('SIGTERM');
  }
}

/** A run of 30 minutes at 10 Hz out of a store with many, thinned for a page, beside one row of it. */
export async function trace(options: BenchOptions): Promise<readonly BenchTable[]> {
  const sizes = [5_000_000 * Math.min(1, options.scale), ...(options.large ? [50_000_000] : [])];
  const rows: string[][] = [];
  for (const size of sizes) rows.push(...(await measureStore(size, options)));
  const reason = noDropCaches();
  return [
    {
      title: `The trace of a 30-minute run (${runRows} rows of its arc and as many of the run) thinned to ${points} points`,
      header: ['out of', 'trace, ms', 'one row, ms'],
      rows: [...rows, ['goal', 'under 20 cold, no slower at 50 million', '–']],
      notes: [
        'Rows counted are those of arcs. Every reading is of another run. Cold: the page cache is dropped before, and the connection has none of the file’s pages. Over HTTP: with the text of the answer and its zones, seen by a client.',
        ...(reason === null ? [] : [`Nothing was measured cold: ${reason}.`]),
        ...(options.large ? [] : ['50 million rows: `--large`.']),
      ],
    },
  ];
}

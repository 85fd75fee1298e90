import { setTimeout as wait } from 'node:timers/promises';
import { noFailingFiles } from '../faults/failing-files.js';
import { scratchDir } from '../faults/service-process.js';
import { slowSyncs } from '../faults/slow-syncs.js';
import { assignedService } from './assigned-service.js';
import type { BenchOptions, BenchTable } from './bench-part.js';
import { quantile, spread } from './spread.js';
import { startLoad } from './send-load.js';

const carriages = 10;
const addedMs = 10;
const seconds = 8;
/** More than any machine takes in that time. */
const count = 60_000;

interface Load {
  readonly perSecond: number;
  readonly list: readonly number[];
  readonly page: readonly number[];
}

async function underLoad(added: number, scale: number): Promise<Load> {
  const dir = scratchDir();
  const { process, addresses } = await assignedService(dir.path, carriages, slowSyncs(dir.path, added));
  const list: number[] = [];
  const page: number[] = [];
  const state = { sending: true };
  const ask = async (path: string, times: number[]): Promise<void> => {
    while (state.sending) {
      const begun = performance.now();
      const response = await fetch(addresses.http + path);
      await response.text();
      if (!response.ok) throw new Error(`GET ${path} answered ${response.status}`);
      times.push(performance.now() - begun);
      await wait(20);
    }
  };
  try {
    const port = Number(new URL(addresses.mqtt).port);
    const { done } = await startLoad({ port, kind: 'readings', carriages, count: Math.ceil(count * scale), window: 400, seconds: seconds * scale });
    const asking = Promise.all([ask('/api/carriages', list), ask('/', page)]);
    const sent = await done;
    state.sending = false;
    await asking;
    return { perSecond: sent.acknowledged / sent.seconds, list, page };
  } finally {
    state.sending = false;
    await process.kill('SIGTERM');
    dir.remove();
  }
}

/** Ingest and pages where every sync takes 10 ms longer, in turns with the disk as it is. */
export async function slowSync(options: BenchOptions): Promise<readonly BenchTable[]> {
  const reason = noFailingFiles();
  const header = ['sync', 'readings, 1/s', 'GET /api/carriages: p50, ms', 'p99, ms', 'GET /: p50, ms', 'p99, ms'];
  const title = 'Readings through the embedded broker as fast as they are acknowledged, while pages are asked for';
  if (reason !== null) return [{ title, header, rows: [], notes: [`Not measured: ${reason}.`] }];
  const found = new Map<number, Load[]>([[addedMs, []], [0, []]]);
  for (let round = 1; round <= Math.min(options.rounds, 2); round += 1) {
    for (const [added, loads] of found) {
      options.say(`slow-sync: ${added} ms added, round ${round}`);
      loads.push(await underLoad(added, options.scale));
    }
  }
  const rows = [...found].map(([added, loads]) => {
    const times = (of: (load: Load) => readonly number[], share: number): string => spread(loads.map((load) => quantile(of(load), share)), 1);
    const asked = [times(({ list }) => list, 0.5), times(({ list }) => list, 0.99), times(({ page }) => page, 0.5), times(({ page }) => page, 0.99)];
    return [added === 0 ? 'as it is' : `${added} ms longer`, spread(loads.map(({ perSecond }) => perSecond)), ...asked];
  });
  return [
    {
      title,
      header,
      rows: [...rows, [`goal, ${addedMs} ms longer`, 'over 10,000', '–', 'under 50', '–', 'under 50']],
      notes: [`${seconds} s a round, ${carriages} carriages in runs by a procedure with windows. Every fsync and fdatasync of the service sleeps first (slow-sync.c). Times are those of a client in another process.`],
    },
  ];
}

import { join } from 'node:path';
import { scratchDir } from '../faults/service-process.js';
import { asBlocks, asReadings, asReadingsWithTravel, foldedRows, type FoldedRows } from '../traces/folded-rows.js';
import { madeStands } from '../traces/made-rows.js';
import { openTraceDatabase, tracePages } from '../traces/trace-database.js';
import { blockSamples } from './bench-messages.js';
import type { BenchOptions, BenchTable } from './bench-part.js';
import { storeRun } from './made-store.js';

const goal = 32;
const runs = 6;
const halfHour = 18_000;
const start = Date.UTC(2026, 10, 2, 6) * 1e3;

type Making = Partial<Parameters<typeof madeStands>[0]>;

const stands = (seed: number, more: Making): ReturnType<typeof madeStands> =>
  madeStands({ count: halfHour, start: start + 37_000, interval: 100_000, jitter: 3, seed, ...more });

const cases: Readonly<Record<string, (seed: number) => FoldedRows>> = {
  'readings at 10 Hz on the grid of rows': (seed) => foldedRows(asReadings(stands(seed, { start, jitter: 0 }))),
  'readings at 10 Hz beside the grid, 0 to 3 ms jitter': (seed) => foldedRows(asReadings(stands(seed, {}))),
  'the same with the travel of an encoder': (seed) => foldedRows(asReadingsWithTravel(stands(seed, {}))),
  'readings at 20 Hz': (seed) => foldedRows(asReadings(stands(seed, { count: halfHour * 2, interval: 50_000 }))),
  [`blocks of ${blockSamples} samples at 1 kHz`]: (seed) => foldedRows(asBlocks(stands(seed, { count: halfHour * 30, interval: 1_000, jitter: 0 }), blockSamples)),
};

/** Bytes that a row of a finished run takes on the disk, pages and indexes included. */
export function disk(options: BenchOptions): Promise<readonly BenchTable[]> {
  const rows = Object.entries(cases).map(([name, make]) => {
    options.say(`disk: ${name}`);
    const dir = scratchDir();
    const db = openTraceDatabase(join(dir.path, 'store.db'));
    try {
      db.pragma('synchronous = OFF');
      const empty = tracePages(db);
      let count = 0;
      for (let seed = 1; seed <= Math.max(1, Math.round(runs * options.scale)); seed += 1) {
        const own = make(seed);
        count += own.arc.length;
        storeRun(db, `bench-run-${seed}`, own);
      }
      return [name, String(count), ((tracePages(db) - empty) / count).toFixed(1), String(goal)];
    } finally {
      db.close();
      dir.remove();
    }
  });
  return Promise.resolve([
    {
      title: 'Disk for a row of a finished run',
      header: ['rows from', 'rows', 'bytes a row', 'goal'],
      rows,
      notes: ['A row of an arc and the row of the run beside it together: all pages of the trace tables and their indexes. Values are noise to the last digit sent, which packs worst. `trace-size.ts` tells more of it.'],
    },
  ]);
}

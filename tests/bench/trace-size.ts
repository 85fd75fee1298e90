import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, constants, deflateRawSync } from 'node:zlib';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import type { SqliteFile } from '../../shared/sqlite/sqlite-file.js';
import { arcColumns, runColumns } from '../../shared/weld/rows/row.js';
import { sqliteTraceReader } from '../../shared/traces/sqlite-traces.js';
import { speedColumns, thinTrace } from '../../shared/weld/along/thin-trace.js';
import { bucketColumns } from '../../shared/weld/along/trace-bucket.js';
import { asBlocks, asReadings, asReadingsWithTravel, foldedRows } from '../traces/folded-rows.js';
import { madeStands } from '../traces/made-rows.js';
import { openTraceDatabase, sqliteTraceStore, tracePages } from '../traces/trace-database.js';
import { packArcRows, packRunRows, unpackArcRows, unpackRunRows } from '../traces/packed-rows.js';
import { arcNumbers, plainArcRows, plainRunRows, readArc, readRun, runNumbers } from '../named-rows.js';
import type { ArcRow, RunRow } from '../named-rows.js';

/*
 * What a row of a trace costs, on disk and in time: `npx tsx tests/bench/trace-size.ts`; with `day`, a whole day of one arc as well.
 * Rows are those the service makes of made-up readings (`madeStands` says with what noise and resolution).
 */

const start = 1_700_000_000_000_000;
const halfHour = 18_000;
const stands = (more: Partial<Parameters<typeof madeStands>[0]>): ReturnType<typeof madeStands> =>
  madeStands({ count: halfHour, start: start + 37_000, interval: 100_000, jitter: 3, seed: 1, ...more });

const cases: Readonly<Record<string, () => ReturnType<typeof foldedRows>>> = {
  '10 Hz on the grid': () => foldedRows(asReadings(stands({ start, jitter: 0 }))),
  '10 Hz beside the grid, 0-3 ms jitter': () => foldedRows(asReadings(stands({}))),
  'the same, 1 ms before the grid': () => foldedRows(asReadings(stands({ start: start + 99_000 }))),
  'the same, travel of an encoder': () => foldedRows(asReadingsWithTravel(stands({}))),
  '1 Hz': () => foldedRows(asReadings(stands({ count: halfHour / 10, interval: 1_000_000 }))),
  '20 Hz': () => foldedRows(asReadings(stands({ count: halfHour * 2, interval: 50_000 }))),
  'blocks of 100 at 1 kHz': () => foldedRows(asBlocks(stands({ count: halfHour * 30, interval: 1000, jitter: 0 }), 100)),
};

/** ms of processor time since `from` (of all threads, the garbage collector's too): other work on the machine does not count. */
function spent(from?: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}

/** The least of some rounds in ms, so that a warm engine is measured. */
function timed<T>(work: () => T): { readonly result: T; readonly took: number } {
  let result = work();
  let took = Infinity;
  for (let round = 0; round < 8; round += 1) {
    const from = process.cpuUsage();
    result = work();
    took = Math.min(took, spent(from));
  }
  return { result, took };
}

function minutes<Row>(rows: readonly Row[]): (readonly Row[])[] {
  return Array.from({ length: Math.ceil(rows.length / 600) }, (_, n) => rows.slice(n * 600, n * 600 + 600));
}

const sizeOf = (blobs: readonly Buffer[]): number => blobs.reduce((sum, blob) => sum + blob.length, 0);
const line = (...cells: (string | number)[]): void => {
  console.log(cells.map((cell, n) => (n === 0 ? String(cell).padEnd(40) : String(cell).padStart(9))).join(''));
};

function measurePacking(): void {
  console.log('\nPacked blobs (a row stands for one arc row and one run row)');
  line('', 'B arc', 'B run', 'µs in', 'µs out');
  for (const [name, make] of Object.entries(cases)) {
    const { arc, run } = make();
    const perRow = (ms: number): string => ((ms * 1000) / arc.length).toFixed(2);
    const packed = timed(() => ({ arc: minutes(arc).map(packArcRows), run: minutes(run).map(packRunRows) }));
    const unpacked = timed(() => ({ arc: packed.result.arc.flatMap(unpackArcRows), run: packed.result.run.flatMap(unpackRunRows) }));
    if (!same(unpacked.result.arc, arc) || !same(unpacked.result.run, run)) throw new Error(`${name}: rows came back changed`);
    const bytes = (blobs: readonly Buffer[]): string => (sizeOf(blobs) / arc.length).toFixed(2);
    line(name, bytes(packed.result.arc), bytes(packed.result.run), perRow(packed.took), perRow(unpacked.took));
  }
}

function same(a: readonly (ArcRow | RunRow)[], b: readonly (ArcRow | RunRow)[]): boolean {
  return a.length === b.length && a.every((row, n) => Object.entries(row).every(([name, value]) => Object.is(value, Reflect.get(b[n] ?? {}, name))));
}

/** What there was to choose from: the same rows without any prediction. */
function measureTurnedDown(): void {
  console.log('\nWithout prediction, 10 Hz beside the grid, bytes a row (arc and run)');
  const { arc, run } = foldedRows(asReadings(stands({})));
  const byColumn = minutes(arc).flatMap((part) => arcColumns.map((name) => shuffled(Float64Array.from(part, (row) => row[name]))));
  const runByColumn = minutes(run).flatMap((part) => runColumns.map((name) => shuffled(Float64Array.from(part, (row) => row[name]))));
  const rate = (blobs: readonly Buffer[]): string => (sizeOf(blobs) / arc.length).toFixed(2);
  const plain = minutes(arc).map(plainArcRows).concat(minutes(run).map(plainRunRows));
  line('plain rows', rate(plain));
  line('plain rows, deflated', rate(plain.map((blob) => deflateRawSync(blob))));
  const join2 = [...byColumn, ...runByColumn];
  line('columns shuffled by byte, deflated', rate(join2.map((blob) => deflateRawSync(blob))));
  for (const quality of [4, 9]) {
    const params = { [constants.BROTLI_PARAM_QUALITY]: quality };
    line(`columns shuffled by byte, brotli ${quality}`, rate(join2.map((blob) => brotliCompressSync(blob, { params }))));
  }
}

function shuffled(column: Float64Array): Buffer {
  const bytes = Buffer.from(column.buffer, column.byteOffset, column.byteLength);
  const planes = Buffer.alloc(bytes.length);
  for (let at = 0; at < bytes.length; at += 1) planes[(at % 8) * column.length + Math.floor(at / 8)] = bytes[at] ?? 0;
  return planes;
}

function inDatabase(work: (db: SqliteFile, file: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), 'trace-size-'));
  const file = join(folder, 'store.db');
  const db = openTraceDatabase(file);
  db.pragma('synchronous = OFF'); // Syncs are the disk's affair, not the packing's.
  try {
    work(db, file);
  } finally {
    db.close();
    rmSync(folder, { recursive: true });
  }
}

/** Stores a run, that many rows of each kind in each commit. */
function store(db: SqliteFile, arc: readonly ArcRow[], run: readonly RunRow[], batch: number): void {
  const traces = sqliteTraceStore(db);
  for (let from = 0; from < arc.length; from += batch) {
    db.transaction(() => {
      traces.appendArc('r1', 1, arcNumbers(arc.slice(from, from + batch)));
      traces.appendRun('r1', runNumbers(run.slice(from, from + batch)));
    })();
  }
  db.transaction(() => {
    traces.close('r1');
  })();
}

function measureStore(): void {
  console.log('\nIn the database (syncs off), half an hour beside the grid');
  const { arc, run, arcs } = foldedRows(asReadings(stands({})));
  for (const batch of [1, 10, 50, 600]) {
    inDatabase((db) => {
      const from = process.cpuUsage();
      store(db, arc, run, batch);
      line(`appended ${batch} at a time: µs a row`, ((spent(from) * 1000) / arc.length).toFixed(1));
    });
  }
  inDatabase((db, file) => {
    store(db, arc, run, 10);
    const tail = timed(() => {
      sqliteTraceStore(db).setTail('r1', [{ arc: 1, rows: arcNumbers(arc.slice(-30)) }], runNumbers(run.slice(-30)));
    });
    line('a tail of 30 rows replaced: µs', (tail.took * 1000).toFixed(0));
    const reading = openSqlite(file, { readOnly: true });
    const trace = (): number => {
      const reader = sqliteTraceReader(reading);
      const input = { axis: 'time' as const, points: 1500, start, startOffset: 0, direction: 1 as const, offsets: {}, thermalEfficiency: 1 };
      const rows = arcs.map((own) => ({ arc: own.arc, stretches: reader.readArcColumns('r1', own.arc, bucketColumns) }));
      return thinTrace({ ...input, arcs: rows, runRows: reader.readRunColumns('r1', speedColumns), extent: reader.extent('r1') }).rows;
    };
    line(`${halfHour} rows read, thinned to 1,500: ms`, timed(trace).took.toFixed(1));
    reading.close();
  });
}

function measureDay(): void {
  console.log('\nA whole day of one arc, 10 Hz beside the grid, 0-3 ms jitter');
  const { arc, run } = foldedRows(asReadings(stands({ count: 864_000 })));
  inDatabase((db) => {
    store(db, arc, run, 10);
    line('rows', arc.length);
    line('pages of tables and indexes: B a row', (tracePages(db) / arc.length).toFixed(2));
    let row = 0;
    for (const read of readArc(sqliteTraceReader(db), 'r1', 1)) if (!same([read], arc.slice(row, ++row))) throw new Error(`row ${row} came back changed`);
    row = 0;
    for (const read of readRun(sqliteTraceReader(db), 'r1')) if (!same([read], run.slice(row, ++row))) throw new Error(`run row ${row} came back changed`);
    line('all read back, equal to the last bit');
  });
}

console.log(`Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores`);
measurePacking();
measureTurnedDown();
measureStore();
if (process.argv.includes('day')) measureDay();

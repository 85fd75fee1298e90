import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { summedRows } from '../../services/ingest/store/summed-rows.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter, type SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { sqliteTraceStore } from '../traces/trace-database.js';
import { madeRun } from '../api/made-run.js';
import { asReadings, foldedRows, type FoldedRows } from '../traces/folded-rows.js';
import { madeStands } from '../traces/made-rows.js';
import { arcNumbers, runNumbers } from '../named-rows.js';

/** Rows of a run of 30 minutes at 10 Hz. */
export const runRows = 18_000;
/** Carriages that weld at the same time, whose minutes so come to lie between one another. */
const together = 10;
/** µs; a multiple of a row. */
const start = Date.UTC(2026, 10, 2, 6) * 1e3;

interface PackedEntry {
  readonly arc: number;
  readonly first_index: number;
  readonly last_index: number;
  readonly row_count: number;
  readonly body: Buffer;
}

/** 10 Hz beside the grid of rows, with noise: what a carriage without a common clock sends. */
export function halfHourRows(): FoldedRows {
  return foldedRows(asReadings(madeStands({ count: runRows, start: start + 37_000, interval: 100_000, jitter: 3, seed: 1 })));
}

/** Stores a run as the service does, and packs it. */
export function storeRun(db: SqliteFile, id: string, { arcs, run }: FoldedRows): void {
  const store = sqliteTraceStore(db);
  db.transaction(() => {
    for (let from = 0; from < run.length; from += 100) store.appendRun(id, runNumbers(run.slice(from, from + 100)));
    for (const { arc, rows } of arcs) for (let from = 0; from < rows.length; from += 100) store.appendArc(id, arc, arcNumbers(rows.slice(from, from + 100)));
    store.close(id);
  })();
}

function addRecord(rows: ReturnType<typeof summedRows>, id: string, stream: number, number: number): void {
  const started = start + number;
  const record = madeRun({ id, started, seam: `BENCH-${number}` });
  const text = JSON.stringify(record);
  rows.saveRun({
    id, stream_id: stream, site: record.site, carriage: record.carriage, seam: record.seam, run: 1, attempt: 1, assigned: 1, state: 'finished', simulated: 0,
    started, ended: started + runRows * 100_000, version: 1, finished: started, span: '{}', marks: '{"zones":[]}', override: null, record: text,
    procedure: null, operator: null, lots: null, excursions: 0, complete: 1, judged: 0, length: record.length,
  });
}

/**
 * A data directory with so many finished runs. The first is stored row by row; the others are copies of its packed minutes, laid
 * down minute by minute as carriages that weld at the same time would. Gives the runs' ids in that order.
 */
export function makeStore(dataDir: string, runs: number): string[] {
  const db = openWriter(join(dataDir, 'seamwarden.db'));
  migrate(db, [sqliteTracesSchema]);
  // Made once and thrown away; it need survive nothing.
  db.pragma('synchronous = OFF');
  const rows = summedRows(db);
  const stream = 1;
  rows.saveStream({ id: stream, site: 'bench', carriage: 'c1', stream: 'log', online: null, last_seen: null, clock_offset: null, snapshot: null, settled: 0, retired: 0, heard: 0 });
  const ids = Array.from({ length: runs }, () => randomBytes(9).toString('base64url'));
  const [first = '', ...copies] = ids;
  storeRun(db, first, halfHourRows());
  const packed = db.prepare<[string], PackedEntry>('SELECT arc, first_index, last_index, row_count, body FROM trace_packed WHERE run = ? ORDER BY first_index, arc').all(first);
  // What a carriage's minute gives, for the run and for its arcs, is packed in one commit.
  const minutes = [...new Set(packed.map((entry) => entry.first_index))].map((index) => packed.filter((entry) => entry.first_index === index));
  const add = db.prepare<[string, number, number, number, number, Buffer]>(
    'INSERT INTO trace_packed (run, arc, first_index, last_index, row_count, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  for (let from = 0; from < copies.length; from += together) {
    const group = copies.slice(from, from + together);
    db.transaction(() => {
      for (const minute of minutes) for (const id of group) for (const entry of minute) add.run(id, entry.arc, entry.first_index, entry.last_index, entry.row_count, entry.body);
    })();
  }
  db.transaction(() => {
    ids.forEach((id, number) => { addRecord(rows, id, stream, number); });
  })();
  db.pragma('synchronous = FULL');
  db.pragma('wal_checkpoint(TRUNCATE)');
  db.close();
  return ids;
}

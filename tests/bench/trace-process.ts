import type * as databaseModule from '../../shared/records/open-database.js';
import type * as tracesModule from '../../shared/traces/sqlite-traces.js';
import type * as bucketModule from '../../shared/weld/along/trace-bucket.js';
import type * as thinModule from '../../shared/weld/along/thin-trace.js';
import { childOptions, onParent, tellParent } from './bench-child.js';
import { builtFile } from './built-service.js';
import { runRows } from './made-store.js';
import { readArc } from '../named-rows.js';

export interface TraceOrder {
  readonly what: 'open' | 'trace' | 'row';
  readonly run: string;
}

const { openReader } = (await import(builtFile('shared/records/open-database.js'))) as typeof databaseModule;
const { sqliteTraceReader } = (await import(builtFile('shared/traces/sqlite-traces.js'))) as typeof tracesModule;
const { speedColumns, thinTrace } = (await import(builtFile('shared/weld/along/thin-trace.js'))) as typeof thinModule;
const { bucketColumns } = (await import(builtFile('shared/weld/along/trace-bucket.js'))) as typeof bucketModule;

const { file, start, points } = childOptions() as { file: string; start: number; points: number };
let db = openReader(file);
let reader = sqliteTraceReader(db);

function readTrace(run: string): void {
  const arcs = reader.arcs(run).map((arc) => ({ arc, stretches: reader.readArcColumns(run, arc, bucketColumns) }));
  const trace = thinTrace({
    axis: 'time', points, start, startOffset: 0, direction: 1, offsets: {}, thermalEfficiency: 1,
    arcs, runRows: reader.readRunColumns(run, speedColumns), extent: reader.extent(run),
  });
  // Some hundred buckets at least, so that nobody measures how quickly nothing is read.
  if (trace.rows < runRows / 2) throw new Error(`run ${run} has ${trace.rows} rows`);
}

function readRow(run: string): void {
  const index = Math.floor(start / 100_000) + runRows / 2;
  const rows = readArc(reader, run, 1, index, index + 1);
  if (rows.length !== 1) throw new Error(`run ${run} has ${rows.length} rows at ${index}`);
}

onParent((message) => {
  const { what, run } = JSON.parse(message) as TraceOrder;
  const begun = performance.now();
  if (what === 'trace') readTrace(run);
  else if (what === 'row') readRow(run);
  else {
    // A new connection has none of the file's pages in its own cache.
    db.close();
    db = openReader(file);
    reader = sqliteTraceReader(db);
  }
  tellParent(performance.now() - begun);
});
tellParent('ready');

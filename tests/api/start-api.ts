import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { runShape } from '../../shared/answers/run-shape.js';
import { migrate } from '../../shared/records/migrate.js';
import { openReader, openWriter, recordsOf } from '../../shared/records/open-database.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTraceReader, sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { sqliteTraceStore } from '../traces/trace-database.js';
import type { TraceStore } from '../../shared/traces/trace-store.js';
import { createApp } from '../../services/api/app.js';
import type { ApiDeps } from '../../services/api/deps.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { fakePort } from './fake-port.js';
import type { FakePort } from './fake-port.js';
import { firstStart, madeRun } from './made-run.js';
import type { RunParts } from './made-run.js';

export interface Api {
  readonly url: string;
  readonly port: FakePort;
  readonly writer: SqliteFile;
  readonly traces: TraceStore;
  /** Lines of the log. */
  readonly logged: string[];
  addRun(parts: RunParts, marks?: object): void;
  /** Tells the app that the service stops. */
  abort(): void;
  stop(): Promise<void>;
}

/** The API over a database of its own, on a free port. */
export async function startApi(more: Partial<Pick<ApiDeps, 'limits' | 'pagesDir'>> = {}): Promise<Api> {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-api-'));
  const file = join(folder, 'test.db');
  const writer = openWriter(file);
  migrate(writer, [sqliteTracesSchema]);
  writer.prepare("INSERT INTO streams (id, site, carriage, stream) VALUES (1, 'hall-2', 'c1', '')").run();
  const port = fakePort(writer);
  const stopping = new AbortController();
  const { url, logged, close } = await serveApi(file, { ...more, port, stopped: stopping.signal });
  return {
    url,
    port,
    writer,
    traces: sqliteTraceStore(writer),
    logged,
    addRun: (parts, marks = {}) => {
      addRun(writer, parts, marks);
    },
    abort: () => {
      stopping.abort();
    },
    async stop() {
      stopping.abort();
      await close();
      writer.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** The API over an existing database, on a free port. */
export async function serveApi(file: string, more: Partial<ApiDeps> & Pick<ApiDeps, 'port'>): Promise<{ readonly url: string; readonly logged: string[]; readonly close: () => Promise<void> }> {
  const reader = openReader(file);
  const records = recordsOf(reader);
  const logged: string[] = [];
  const log = pino({ level: 'info' }, { write: (line: string) => void logged.push(line) });
  const service = (): ReturnType<ApiDeps['service']> => ({
    timeZone: 'Europe/Berlin', shifts: [{ name: 'early', begins: '06:00' }, { name: null, begins: '14:00' }], startedAt: '2026-11-23T08:00:00.000Z', mqtt: { embedded: true, host: '127.0.0.1', port: 1883 }, http: { host: '127.0.0.1', port: 8080 },
  });
  const server = createServer(createApp({ pagesDir: null, service, weld: defaultWeldSettings, records, traces: sqliteTraceReader(reader), log, ...more }));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    logged,
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      await records.destroy();
    },
  };
}

function addRun(writer: SqliteFile, parts: RunParts, marks: object): void {
  const run = madeRun(parts);
  const started = parts.started ?? firstStart;
  writer
    .prepare(
      `INSERT INTO runs (id, stream_id, site, carriage, seam, run, attempt, assigned, state, simulated, started, ended, version, span, marks, record, record_shape, procedure, operator, lots, excursions, complete, judged, length)
       VALUES (?, 1, ?, ?, ?, ?, 1, ?, ?, ?, ?, ?, 1, '{}', ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    )
    .run(
      run.id, run.site, run.carriage, run.seam, run.run, run.assigned ? 1 : 0, run.state, run.simulated ? 1 : 0, started, started + 60_000_000, JSON.stringify({ zones: [], ...marks }), JSON.stringify(run), runShape,
      run.assignment?.procedure ?? null, run.assignment?.operator ?? null, run.assignment?.fluxLot === undefined ? null : `\n${run.assignment.fluxLot}\n`,
      run.excursions, Number(run.complete), Number(run.judged), run.state === 'finished' ? run.length : null,
    );
}

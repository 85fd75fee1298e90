import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { keptNumbers } from '../../services/ingest/keep-messages.js';
import type { FoldDeps } from '../../services/ingest/fold-deps.js';
import { prepareStatements } from '../../services/ingest/statements.js';
import { streamAccess } from '../../services/ingest/stream-access.js';
import type { StreamAccess } from '../../services/ingest/stream-access.js';
import { takeIncoming } from '../../services/ingest/take-incoming.js';
import type { IncomingCounts } from '../../services/ingest/take-incoming.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTraceReader, sqliteTracesSchema, sqliteTraceStore } from '../../shared/traces/sqlite-traces.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';

export interface OpenStreams {
  readonly folder: string;
  readonly db: SqliteFile;
  readonly counts: IncomingCounts;
  readonly problems: string[];
  /** The streams as they are in memory, until `restart` has them read anew. */
  streams(): StreamAccess;
  /** µs since 1970, set by the test. */
  now: number;
  restart(): void;
  take(topic: string, payload: string | Uint8Array): void;
  close(): void;
}

/** A store in a folder of its own, a copy of `stored` where that is given, and what takes messages into it; begin and commit are the test's. `other` replaces what the fold is given. */
export function openStreams(prepare: (db: SqliteFile) => void = () => undefined, other: Partial<FoldDeps> = {}, stored?: Uint8Array): OpenStreams {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-kept-'));
  if (stored !== undefined) writeFileSync(join(folder, 'seamwarden.db'), stored);
  const db = openWriter(join(folder, 'seamwarden.db'));
  prepare(db);
  migrate(db, [sqliteTracesSchema]);
  const statements = prepareStatements(db);
  const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0, unknownFields: 0 };
  const problems: string[] = [];
  const open = (): StreamAccess => {
    const since = own.now;
    const fold: FoldDeps = {
      statements, kept: keptNumbers(statements), traces: { ...sqliteTraceStore(db), ...sqliteTraceReader(db) }, settings: defaultWeldSettings,
      lateFor: 900e6, now: () => own.now, steady: () => own.now, listeningSince: () => since, emit: () => undefined, ...other,
    };
    return streamAccess(fold, (level, text) => { if (level !== 'info') problems.push(text); });
  };
  let streams: StreamAccess | null = null;
  const own: OpenStreams = {
    folder, db, counts, problems, now: Date.UTC(2026, 10, 25) * 1e3,
    streams: () => (streams ??= open()),
    restart: () => { streams = null; },
    take: (topic, payload) => {
      own.now += 1;
      takeIncoming({ topic, payload: typeof payload === 'string' ? Buffer.from(payload) : payload, retained: false, acknowledge: () => undefined }, own.streams(), counts);
    },
    close: () => {
      db.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return own;
}

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeRunRecords } from '../../services/ingest/records/write-run-records.js';
import type { FoldDeps } from '../../services/ingest/fold/fold-deps.js';
import { foldFresh } from '../../services/ingest/fold/fold-stream.js';
import { writeMessageLog } from '../../services/ingest/fold/message-log.js';
import { knownPasses } from '../../services/ingest/fold/known-passes.js';
import { knownProcedures } from '../../services/ingest/fold/known-procedures.js';
import type { Statements } from '../../services/ingest/store/statements.js';
import type { ChangeWriter } from '../../services/ingest/store/change-writer.js';
import { foldAgain } from '../../services/ingest/writer/fold-again.js';
import { gatherMessage } from '../../services/ingest/writer/gather-message.js';
import { changeWriter } from '../../services/ingest/store/change-writer.js';
import { openStore } from '../../services/ingest/store/open-store.js';
import { streamAccess } from '../../services/ingest/writer/stream-access.js';
import type { StreamAccess } from '../../services/ingest/writer/stream-access.js';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import { handleMessage } from '../../services/ingest/writer/handle-message.js';
import type { IncomingCounts } from '../../services/ingest/writer/handle-message.js';
import { emptyChangeSet, isEmptyChangeSet, type ChangeSet } from '../../shared/records/change-set.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { orderedTraces, traceChanges } from '../../shared/traces/trace-change.js';
import type { TraceReader, TraceStore } from '../../shared/traces/trace-store.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';

/** The streams, with the statements by which tests read the store. */
export interface OpenAccess extends StreamAccess {
  readonly fold: FoldDeps & { readonly statements: Statements; readonly traces: TraceStore & TraceReader };
  readonly writer: ChangeWriter;
  /** Folds the accepted items and writes the records, now. */
  finish(carriage: Carriage): void;
}

export interface OpenStreams {
  readonly folder: string;
  /** The store, and the streams in memory, until `restart` reads them again. Reading either first stores what was changed before. */
  readonly db: SqliteFile;
  readonly counts: IncomingCounts;
  readonly problems: string[];
  /** The stored change sets, in order. */
  readonly applied: readonly ChangeSet[];
  streams(): OpenAccess;
  /** µs since 1970, set by the test. */
  now: number;
  restart(): void;
  take(topic: string, payload: string | Uint8Array): void;
  close(): void;
}

/**
 * Opens a store in a separate folder, a copy of `stored` if that is given, and what stores messages in it; the test begins and commits transactions.
 * `other` replaces parts of what the fold is given.
 */
export function openStreams(prepare: (db: SqliteFile) => void = () => undefined, other: Partial<Omit<FoldDeps, 'traces'>> = {}, stored?: Uint8Array): OpenStreams {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-kept-'));
  if (stored !== undefined) writeFileSync(join(folder, 'seamwarden.db'), stored);
  const db = openWriter(join(folder, 'seamwarden.db'));
  prepare(db);
  migrate(db, [sqliteTracesSchema]);
  const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0, unknownFields: 0 };
  const problems: string[] = [];
  const applied: ChangeSet[] = [];
  let streams: OpenAccess | null = null;
  const open = (): OpenAccess => {
    const since = own.now;
    const store = openStore(db);
    const { statements, traces } = store;
    const fold: OpenAccess['fold'] = {
      statements, changes: emptyChangeSet(), numbers: store.numbers(), traces: { ...traces, ...traceChanges(orderedTraces((change) => fold.changes.traces.push(change)).note) }, procedures: knownProcedures(), passes: knownPasses(),
      settings: defaultWeldSettings, lateFor: 900e6, now: () => own.now, steady: () => own.now, listeningSince: () => since, emit: () => undefined, ...other,
    };
    const access = streamAccess({ fold, store, log: (level, text) => { if (level !== 'info') problems.push(text); } });
    const finish = (carriage: Carriage): void => {
      foldFresh(carriage, fold);
      // Folding may show that a run continues after rows that were cut.
      for (let again = 0; again === 0 || (again < 4 && carriage.fold.dirtyFrom !== null); again += 1) {
        save();
        foldAgain(carriage, access);
        writeRunRecords(carriage, fold);
      }
    };
    return Object.assign(access, { fold, finish, writer: changeWriter(db) });
  };
  /** Stores what was changed, within the test's transaction or in a separate one. */
  const save = (packs = true): void => {
    if (streams === null) return;
    const { all, fold, writer } = streams;
    if (packs) for (const carriage of all.values()) writeMessageLog(carriage, fold.changes);
    const { changes } = fold;
    fold.changes = emptyChangeSet();
    if (!isEmptyChangeSet(changes)) applied.push(changes);
    if (db.isTransaction) writer.write(changes);
    else writer.apply(changes);
  };
  const own: OpenStreams = {
    folder, counts, problems, applied, now: Date.UTC(2026, 10, 25) * 1e3,
    get db() {
      save();
      return db;
    },
    streams: () => {
      save();
      return (streams ??= open());
    },
    restart: () => {
      save();
      streams = null;
    },
    take: (topic, payload) => {
      own.now += 1;
      const access = (streams ??= open());
      // A stream that is not in memory is read from the store.
      if (!access.all.has(topic.split('/').slice(1, 3).concat('').join('/'))) save(false);
      const message = { topic, payload: typeof payload === 'string' ? Buffer.from(payload) : payload, retained: false, acknowledge: () => undefined };
      handleMessage(gatherMessage(message, access), access, counts);
    },
    close: () => {
      db.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return own;
}

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { changeWriter } from '../../services/ingest/store/change-writer.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import type { SqliteStatement } from '../../shared/sqlite/sqlite-file.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { watchedFile } from '../../shared/sqlite/watched-file.js';
import { engineContract, type OpenEngine, type RecordedChanges } from './engine-contract.js';
import { recordedChanges } from './recorded-changes.js';
import { tableDigests } from './table-digests.js';

function openEngine(): OpenEngine {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-engine-'));
  const db = openWriter(join(folder, 'seamwarden.db'));
  migrate(db, [sqliteTracesSchema]);
  let left = Infinity;
  let count = 0;
  const failing = <Parameters extends unknown[], Row>(statement: SqliteStatement<Parameters, Row>): SqliteStatement<Parameters, Row> => ({
    ...statement,
    run: (...parameters) => counted(() => statement.run(...parameters)),
    get: (...parameters) => counted(() => statement.get(...parameters)),
    all: (...parameters) => counted(() => statement.all(...parameters)),
  });
  function counted<Result>(work: () => Result): Result {
    if (left === 0) throw new Error('made to fail');
    left -= 1;
    count += 1;
    return work();
  }
  const writer = changeWriter(watchedFile(db, failing));
  return {
    apply: (changes) => { writer.apply(changes); },
    digests: () => tableDigests(db),
    failAt: (statement) => { left = statement; },
    statements: () => count,
    dispose: () => {
      db.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

let recorded: RecordedChanges | null = null;
engineContract('SQLite', openEngine, () => (recorded ??= recordedChanges(tableDigests)));

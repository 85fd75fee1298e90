import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { sqliteTraceReader, sqliteTraceWriter } from '../../shared/traces/sqlite-traces.js';
import { traceChanges } from '../../shared/traces/trace-change.js';
import { openTraceDatabase, sqliteTraceStore } from './trace-database.js';
import { traceStoreContract } from './trace-store-contract.js';

traceStoreContract('SQLite, one connection', () => {
  const db = openTraceDatabase(':memory:');
  return {
    store: sqliteTraceStore(db),
    reader: sqliteTraceReader(db),
    commit: (work) => {
      db.transaction(work)();
    },
    dispose: () => { db.close(); },
  };
});

traceStoreContract('SQLite, read over a connection of its own', () => {
  const folder = mkdtempSync(join(tmpdir(), 'traces-'));
  const db = openTraceDatabase(join(folder, 'store.db'));
  const reading = openSqlite(join(folder, 'store.db'), { readOnly: true });
  return {
    store: sqliteTraceStore(db),
    reader: sqliteTraceReader(reading),
    commit: (work) => {
      db.transaction(work)();
    },
    dispose: () => {
      reading.close();
      db.close();
      rmSync(folder, { recursive: true });
    },
  };
});

traceStoreContract('SQLite, written over two connections in turns', () => {
  const folder = mkdtempSync(join(tmpdir(), 'traces-'));
  const writing = [openTraceDatabase(join(folder, 'store.db')), openTraceDatabase(join(folder, 'store.db'))];
  const apply = writing.map(sqliteTraceWriter);
  const reading = openSqlite(join(folder, 'store.db'), { readOnly: true });
  let commits = 0;
  let within = false;
  const turn = (): number => commits % writing.length;
  return {
    store: traceChanges((change) => {
      if (!within) commits += 1;
      apply[turn()]?.(change);
    }),
    reader: sqliteTraceReader(reading),
    commit: (work) => {
      commits += 1;
      within = true;
      try {
        writing[turn()]?.transaction(work)();
      } finally {
        within = false;
      }
    },
    dispose: () => {
      for (const own of [reading, ...writing]) own.close();
      rmSync(folder, { recursive: true });
    },
  };
});

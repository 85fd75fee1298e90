import { alarmSum, isRowAsWritten } from '../../../shared/records/row-sum.js';
import type { SqliteFile, SqliteStatement } from '../../../shared/sqlite/sqlite-file.js';
import { watchedFile } from '../../../shared/sqlite/watched-file.js';
import { sqliteTraceSeals } from '../../../shared/traces/sqlite-trace-seals.js';
import { sqliteTraceReader } from '../../../shared/traces/sqlite-traces.js';
import type { TraceReader } from '../../../shared/traces/trace-store.js';
import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import type { StoreNumbers } from '../../../shared/records/change-set.js';
import { prepareStatements, type Statements } from './statements.js';
import { inlineWriter, type StoreWriter } from './store-writer.js';

/** The store as the ingest thread sees it: its statements for reading, and its writer. */
export interface Store {
  readonly statements: Statements;
  readonly traces: TraceReader;
  readonly writer: StoreWriter;
  /** Throws an error of damage if the trace of a run was finished and no longer consists of the parts that were written. */
  readonly checkTrace: (run: string) => void;
  numbers(): StoreNumbers;
  /** Alarms of the service that last or are shelved, except those that differ from what was written. */
  serviceAlarms(): AlarmFacts[];
}

/** Opens the store; `db` is only used for reading. Reads see what the last change set left, even while that is still being written. */
export function openStore(file: SqliteFile, writer: StoreWriter = inlineWriter(file)): Store {
  const db = readingBehind(file, writer);
  const statements = prepareStatements(db);
  const lastOf = (table: string): number => statements.lastNumber.get(table)?.seq ?? 0;
  return {
    statements,
    traces: sqliteTraceReader(db),
    writer,
    checkTrace: sqliteTraceSeals(db).check,
    numbers: () => ({ message: lastOf('kept'), stream: lastOf('streams'), checkpoint: lastOf('checkpoints') }),
    serviceAlarms: () => statements.serviceAlarms.all().filter((row) => isRowAsWritten(row, alarmSum)).map(({ facts }) => JSON.parse(facts) as AlarmFacts),
  };
}

function readingBehind(db: SqliteFile, writer: StoreWriter): SqliteFile {
  const own = <Parameters extends unknown[], Row>(statement: SqliteStatement<Parameters, Row>): SqliteStatement<Parameters, Row> => ({
    run: (...parameters) => statement.run(...parameters),
    get: (...parameters) => {
      writer.settle();
      return statement.get(...parameters);
    },
    all: (...parameters) => {
      writer.settle();
      return statement.all(...parameters);
    },
    iterate: (...parameters) => {
      writer.settle();
      return statement.iterate(...parameters);
    },
    columns: () => statement.columns(),
    pluck: () => own(statement.pluck()),
  });
  return watchedFile(db, own);
}

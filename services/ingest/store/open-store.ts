import { alarmSum, isRowAsWritten } from '../../../shared/records/row-sum.js';
import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { sqliteTraceReader } from '../../../shared/traces/sqlite-traces.js';
import type { TraceReader } from '../../../shared/traces/trace-store.js';
import type { AlarmFacts } from '../../../shared/weld/alarm-life.js';
import type { StoreNumbers } from '../fold-deps.js';
import { prepareStatements } from '../statements.js';
import type { Statements } from '../statements.js';
import { changeWriter } from './change-writer.js';
import type { ChangeWriter } from './change-writer.js';

/** The store as the writing thread sees it: what it reads by, and what carries out its changes. */
export interface Store {
  readonly statements: Statements;
  readonly traces: TraceReader;
  readonly writer: ChangeWriter;
  numbers(): StoreNumbers;
  /** A clock that was set back since would have checkpoints lie ahead. */
  clampCheckpoints(now: number): void;
  /** Alarms of the service that last or are shelved; none that is other than it was written. */
  serviceAlarms(): AlarmFacts[];
}

export function openStore(db: SqliteFile): Store {
  const statements = prepareStatements(db);
  const clampCheckpoints = db.prepare<[number, number]>('update checkpoints set created = ? where created > ?');
  const lastOf = (table: string): number => statements.lastNumber.get(table)?.seq ?? 0;
  return {
    statements,
    traces: sqliteTraceReader(db),
    writer: changeWriter(db),
    numbers: () => ({ message: lastOf('kept'), stream: lastOf('streams'), checkpoint: lastOf('checkpoints') }),
    clampCheckpoints: (now) => void clampCheckpoints.run(now, now),
    serviceAlarms: () => statements.serviceAlarms.all().filter((row) => isRowAsWritten(row, alarmSum)).map(({ facts }) => JSON.parse(facts) as AlarmFacts),
  };
}

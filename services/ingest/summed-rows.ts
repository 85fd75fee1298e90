import { runShape } from '../../shared/answers/run-shape.js';
import { recordSum } from '../../shared/records/record-sum.js';
import {
  alarmSum, assignmentSum, bootSum, excursionSum, isRowAsWritten, jobChangeSum, lateSum, markPieceSum, rowAsWritten, runSum, streamSum, type SummedStream,
} from '../../shared/records/row-sum.js';
import { damageError, isDamageError } from '../../shared/sqlite/damage.js';
import type { SqliteFile, SqliteStatement as Statement } from '../../shared/sqlite/sqlite-file.js';
import type { RunRow, SavedAlarm, SavedRun, StreamRow } from './statements.js';
import { isStorageError } from './storage-error.js';

/** A statement that writes rows together with their sums. */
export interface RowWriter<Parameters extends unknown[]> {
  run(...parameters: Parameters): { readonly changes: number; readonly lastInsertRowid: number | bigint };
}

/** A statement whose rows are checked by their sums: it throws an error of damage where one is other than it was written. */
export interface RowReader<Parameters extends unknown[], Row> {
  get(...parameters: Parameters): Row | undefined;
  all(...parameters: Parameters): Row[];
}

/** The only way in which rows come to be that have a sum (shared/records/row-sum.ts). */
export interface SummedRows {
  readonly addStream: RowWriter<[site: string, carriage: string, stream: string, heard: number]>;
  readonly touchStream: RowWriter<[id: number, row: SummedStream]>;
  /** Marks a stream as settled or not; one that is other than it was written stays as it is. */
  readonly settle: (settled: 0 | 1, id: number) => void;
  /** After the wall clock was set: so much later. */
  readonly shiftHeard: (step: number) => void;
  readonly finishedAt: (finished: number, run: string) => void;
  readonly addBoot: RowWriter<[stream: number, boot: string, rank: number, marks: string, taken: string]>;
  readonly markBoot: RowWriter<[marks: string, taken: string | null, own: { readonly id: number; readonly boot: string; readonly rank: number }]>;
  /** Stores a piece of long marks. */
  readonly saveMarkPiece: RowWriter<[boot: number, arc: number, piece: number, steps: string]>;
  readonly addAssignment: RowWriter<[stream: number, received: number, anchor: string, body: string | null]>;
  readonly correctAssignment: RowWriter<[anchor: string, body: string | null, id: number]>;
  readonly saveRun: RowWriter<[SavedRun]>;
  /** What of a run changes as it is welded; no index holds any of it. */
  readonly rewriteRun: RowWriter<[SavedRun]>;
  /** Stores one piece of a run's excursions where it differs. */
  readonly saveExcursions: RowWriter<[run: string, piece: number, list: string]>;
  readonly addLate: RowWriter<[run: string, received: number, boot: string | null, seq: number | null, arc: number, time: number | null, item: string]>;
  readonly saveAlarm: RowWriter<[SavedAlarm]>;
  readonly addJobChange: RowWriter<[site: string, carriage: string, run: string | null, at: number, by: string, reason: string | null, before: string | null, after: string | null]>;
}

const ofStream = ['site', 'carriage', 'stream', 'online', 'last_seen', 'clock_offset', 'snapshot', 'settled', 'retired', 'heard'] as const;
export const streamColumns = ['id', ...ofStream, 'row_sum'].join(', ');

const ofRun = ['id', 'stream_id', 'site', 'carriage', 'seam', 'run', 'attempt', 'assigned', 'state', 'simulated', 'started', 'ended', 'version', 'finished', 'span', 'marks', 'override', 'procedure', 'operator', 'lots', 'excursions', 'complete', 'judged', 'length'] as const;
const runColumns = [...ofRun, 'record', 'record_sum', 'record_shape', 'row_sum'];
export const runColumnNames = runColumns.map((name) => `"${name}"`).join(', ');

/** The sum comes last among the parameters. */
function summed<Parameters extends unknown[]>(statement: Statement<[...Parameters, number]>, sum: (...parameters: Parameters) => number): RowWriter<Parameters> {
  return { run: (...parameters) => statement.run(...parameters, sum(...parameters)) };
}

/** `stream` and `run` read a row by its id. */
export function summedRows(db: SqliteFile, { stream, run: runById }: { readonly stream: Statement<[number], StreamRow>; readonly run: Statement<[string], RunRow> }): SummedRows {
  const streams = db.prepare<[], StreamRow>(`select ${streamColumns} from streams`);
  const finishedAt = db.prepare<[number, number | null, string]>('update runs set finished = ?, row_sum = ? where id = ?');
  const touch = db.prepare<(number | string | null)[]>('update streams set online = ?, last_seen = ?, clock_offset = ?, snapshot = ?, settled = ?, retired = ?, heard = ?, row_sum = ? where id = ?');
  const saveRun = db.prepare<[SavedRun & { readonly record_sum: number; readonly record_shape: number; readonly row_sum: number }]>(
    `insert into runs (${runColumnNames}) values (${runColumns.map((name) => `@${name}`).join(', ')})
     on conflict (id) do update set ${runColumns.slice(1).map((name) => `"${name}" = excluded."${name}"`).join(', ')}`,
  );
  const rewriteRun = db.prepare<[span: string, marks: string, record: string, recordSum: number, shape: number, rowSum: number, id: string]>('update runs set span = ?, marks = ?, record = ?, record_sum = ?, record_shape = ?, row_sum = ? where id = ?');
  const saveAlarm = db.prepare<[SavedAlarm & { readonly row_sum: number }]>(
    `insert into alarms (id, stream_id, run_id, site, carriage, state, recorded, priority, seam, over, facts, record, record_sum, row_sum)
     values (@id, @stream_id, @run_id, @site, @carriage, @state, @recorded, @priority, @seam, @over, @facts, @record, @record_sum, @row_sum)
     on conflict (id) do update set state = excluded.state, over = excluded.over, facts = excluded.facts, record = excluded.record, record_sum = excluded.record_sum, row_sum = excluded.row_sum`,
  );
  const markBoot = db.prepare<[marks: string, taken: string | null, rowSum: number, id: number]>('update boots set marks = ?, taken = ?, row_sum = ? where id = ?');
  const touchStream = (id: number, row: SummedStream): ReturnType<typeof touch.run> => touch.run(row.online, row.last_seen, row.clock_offset, row.snapshot, row.settled, row.retired, row.heard, streamSum(row), id);
  const changeStream = (row: StreamRow, change: Partial<SummedStream>): void => {
    if (isRowAsWritten(row, streamSum)) touchStream(row.id, { ...row, ...change });
  };
  return {
    addStream: summed(db.prepare('insert into streams (site, carriage, stream, heard, row_sum) values (?, ?, ?, ?, ?)'), (site, carriage, stream, heard) =>
      streamSum({ site, carriage, stream, online: null, last_seen: null, clock_offset: null, snapshot: null, settled: 0, retired: 0, heard })),
    touchStream: { run: touchStream },
    settle: (settled, id) => {
      const row = stream.get(id);
      if (row !== undefined && row.settled !== settled) changeStream(row, { settled });
    },
    shiftHeard: (step) => {
      for (const row of streams.all()) if (row.heard !== null) changeStream(row, { heard: row.heard + step });
    },
    finishedAt: (finished, run) => {
      const row = runById.get(run);
      if (row !== undefined && isRowAsWritten(row, runSum)) finishedAt.run(finished, runSum({ ...row, finished }), run);
    },
    addBoot: summed(db.prepare('insert into boots (stream_id, boot, rank, marks, taken, row_sum) values (?, ?, ?, ?, ?, ?)'), (_, boot, rank, marks, taken) => bootSum({ boot, rank, marks, taken })),
    markBoot: { run: (marks, taken, { id, boot, rank }) => markBoot.run(marks, taken, bootSum({ boot, rank, marks, taken }), id) },
    saveMarkPiece: summed(
      db.prepare('insert into mark_pieces (boot_id, arc, piece, steps, row_sum) values (?, ?, ?, ?, ?) on conflict (boot_id, arc, piece) do update set steps = excluded.steps, row_sum = excluded.row_sum'),
      (boot_id, arc, piece, steps) => markPieceSum({ boot_id, arc, piece, steps }),
    ),
    addAssignment: summed(db.prepare('insert into assignments (stream_id, received, anchor, body, row_sum) values (?, ?, ?, ?, ?)'), (_, __, anchor, body) => assignmentSum({ anchor, body })),
    correctAssignment: summed<[string, string | null, number]>(db.prepare('update assignments set anchor = ?1, body = ?2, row_sum = ?4 where id = ?3'), (anchor, body) => assignmentSum({ anchor, body })),
    saveRun: { run: (row) => saveRun.run({ ...row, record_sum: recordSum(row.record), record_shape: runShape, row_sum: runSum(row) }) },
    rewriteRun: { run: (row) => rewriteRun.run(row.span, row.marks, row.record, recordSum(row.record), runShape, runSum(row), row.id) },
    saveExcursions: summed(
      db.prepare(`insert into excursion_pieces (run_id, piece, list, row_sum) values (?, ?, ?, ?) on conflict (run_id, piece)
        do update set list = excluded.list, row_sum = excluded.row_sum where list <> excluded.list or row_sum is not excluded.row_sum`),
      (run_id, piece, list) => excursionSum({ run_id, piece, list }),
    ),
    addLate: summed(db.prepare('insert into late (run_id, received, boot, seq, arc, time, item, row_sum) values (?, ?, ?, ?, ?, ?, ?, ?)'), (run_id, received, boot, seq, arc, time, item) =>
      lateSum({ run_id, received, boot, seq, arc, time, item })),
    saveAlarm: { run: (row) => saveAlarm.run({ ...row, row_sum: alarmSum(row) }) },
    addJobChange: summed(
      db.prepare('insert into job_changes (site, carriage, run_id, at, by, reason, before, after, row_sum) values (?, ?, ?, ?, ?, ?, ?, ?, ?)'),
      (site, carriage, run_id, at, by, reason, before, after) => jobChangeSum({ site, carriage, run_id, at, by, reason, before, after }),
    ),
  };
}

/** The statement's rows, each checked by its sum; `what` names them. */
export function checkedRows<Parameters extends unknown[], Row extends { readonly row_sum: number | null }>(
  statement: Statement<Parameters, Row>, what: string, sum: (row: NoInfer<Row>) => number,
): RowReader<Parameters, Row> {
  return {
    get: (...parameters) => {
      const row = reading(what, () => statement.get(...parameters));
      return row === undefined ? undefined : rowAsWritten(what, row, sum);
    },
    all: (...parameters) => reading(what, () => statement.all(...parameters)).map((row) => rowAsWritten(what, row, sum)),
  };
}

/** What `read` gives. A number that no row can hold, or a text that is no JSON, is damage as well; the store being away is not. */
export function reading<Result>(what: string, read: () => Result): Result {
  try {
    return read();
  } catch (thrown) {
    if (isStorageError(thrown) || isDamageError(thrown)) throw thrown;
    throw damageError('seamwarden.db', what, thrown);
  }
}

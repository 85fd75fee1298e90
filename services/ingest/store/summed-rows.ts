import { runShape } from '../../../shared/answers/run-shape.js';
import { recordSum } from '../../../shared/records/record-sum.js';
import {
  alarmSum, assignmentSum, bootSum, densitySum, excursionSum, isRowAsWritten, jobChangeSum, lateSum, markPieceSum, procedureSum, rowAsWritten, runSum, sensorsSum, streamSum, temperatureSum,
} from '../../../shared/records/row-sum.js';
import { damageError, isDamageError } from '../../../shared/sqlite/damage.js';
import type { SqliteFile, SqliteStatement as Statement } from '../../../shared/sqlite/sqlite-file.js';
import type { BootChange, ChangeSet, JobChange, SavedAlarm, SavedRun, StreamChange } from '../../../shared/records/change-set.js';
import type { RunRow, StreamRow } from './statements.js';
import { isStorageError } from '../storage-error.js';

/** A statement whose rows are checked by their sums: it throws an error of damage if a row differs from what was written. */
export interface RowReader<Parameters extends unknown[], Row> {
  get(...parameters: Parameters): Row | undefined;
  all(...parameters: Parameters): Row[];
}

const ofStream = ['site', 'carriage', 'stream', 'online', 'last_seen', 'clock_offset', 'snapshot', 'settled', 'retired', 'heard'] as const;
export const streamColumns = ['id', ...ofStream, 'row_sum'].join(', ');

const ofRun = ['id', 'stream_id', 'site', 'carriage', 'seam', 'run', 'attempt', 'assigned', 'state', 'simulated', 'started', 'ended', 'version', 'finished', 'span', 'marks', 'override', 'procedure', 'operator', 'lots', 'excursions', 'complete', 'judged', 'length'] as const;
const runColumns = [...ofRun, 'record', 'record_sum', 'record_shape', 'row_sum'];
export const runColumnNames = runColumns.map((name) => `"${name}"`).join(', ');

/** The only code that writes rows with a sum (shared/records/row-sum.ts). */
export function summedRows(db: SqliteFile) {
  const streams = db.prepare<[], StreamRow>(`select ${streamColumns} from streams`);
  const runById = db.prepare<[string], RunRow>(`select ${runColumnNames} from runs where id = ?`);
  const finishedAt = db.prepare<[number, number | null, string]>('update runs set finished = ?, row_sum = ? where id = ?');
  const saveStream = db.prepare<[StreamChange & { readonly row_sum: number }]>(
    `insert into streams (${streamColumns}) values (${names(streamColumns)}) on conflict (id) do update set ${taken([...ofStream.slice(3), 'row_sum'])}`,
  );
  const saveRun = db.prepare<[SavedRun & { readonly record_sum: number; readonly record_shape: number; readonly row_sum: number }]>(
    `insert into runs (${runColumnNames}) values (${runColumns.map((name) => `@${name}`).join(', ')}) on conflict (id) do update set ${taken(runColumns.slice(1))}`,
  );
  const rewriteRun = db.prepare<[span: string, marks: string, record: string, recordSum: number, shape: number, rowSum: number, id: string]>('update runs set span = ?, marks = ?, record = ?, record_sum = ?, record_shape = ?, row_sum = ? where id = ?');
  const alarmColumns = 'id, stream_id, run_id, site, carriage, state, recorded, priority, seam, over, facts, record, record_sum, row_sum';
  const saveAlarm = db.prepare<[SavedAlarm & { readonly row_sum: number }]>(
    `insert into alarms (${alarmColumns}) values (${names(alarmColumns)}) on conflict (id) do update set ${taken(['state', 'over', 'facts', 'record', 'record_sum', 'row_sum'])}`,
  );
  const addBoot = db.prepare<(number | string | null)[]>('insert into boots (stream_id, boot, rank, marks, taken, through, row_sum) values (?, ?, ?, ?, ?, ?, ?)');
  const markBoot = db.prepare<(number | string | null)[]>('update boots set marks = ?, taken = ?, through = ?, row_sum = ? where stream_id = ? and boot = ?');
  const bootId = db.prepare<[number, string], { id: number }>('select id from boots where stream_id = ? and boot = ?');
  const saveMarkPiece = db.prepare<(number | string)[]>('insert into mark_pieces (boot_id, arc, piece, steps, row_sum) values (?, ?, ?, ?, ?) on conflict (boot_id, arc, piece) do update set steps = excluded.steps, row_sum = excluded.row_sum');
  const dropMarkPieces = db.prepare<[boot: number, arc: number, before: number]>('delete from mark_pieces where boot_id = ? and arc = ? and piece < ?');
  const correctAssignment = db.prepare<(number | string | null)[]>('update assignments set anchor = ?, body = ?, row_sum = ? where id = (select id from assignments where stream_id = ? order by id limit 1 offset ?)');
  const addAssignment = db.prepare<(number | string | null)[]>('insert into assignments (stream_id, received, anchor, body, row_sum) values (?, ?, ?, ?, ?)');
  const saveExcursions = db.prepare<(number | string)[]>(
    `insert into excursion_pieces (run_id, piece, list, row_sum) values (?, ?, ?, ?) on conflict (run_id, piece)
      do update set list = excluded.list, row_sum = excluded.row_sum where list <> excluded.list or row_sum is not excluded.row_sum`,
  );
  const addSensors = db.prepare<(number | string | null)[]>('insert into sensors (stream_id, revision, at, by, after, body, row_sum) values (?, ?, ?, ?, ?, ?, ?)');
  const saveDensity = db.prepare<(number | string)[]>('insert into densities (run_id, arc, cells, row_sum) values (?, ?, ?, ?) on conflict (run_id, arc) do update set cells = excluded.cells, row_sum = excluded.row_sum');
  const addLate = db.prepare<(number | string | null)[]>('insert into late (run_id, received, boot, seq, arc, time, item, row_sum) values (?, ?, ?, ?, ?, ?, ?, ?)');
  const addProcedure = db.prepare<(number | string)[]>('insert into procedures (id, revision, created, "by", body, row_sum) values (?, ?, ?, ?, ?, ?)');
  const addJobChange = db.prepare<(number | string | null)[]>('insert into job_changes (site, carriage, run_id, at, by, reason, before, after, row_sum) values (?, ?, ?, ?, ?, ?, ?, ?, ?)');

  const temperatureColumns = 'id, stream_id, run_id, kind, value, at, seam, place, seam_position, distance, instrument, by, reason, entered, withdrawn_at, withdrawn_by, withdrawn_reason, row_sum';
  const saveTemperature = db.prepare<[ChangeSet['temperatures'][number] & { readonly row_sum: number }]>(
    `insert into temperatures (${quoted(temperatureColumns)}) values (${names(temperatureColumns)}) on conflict (id) do update set ${taken(['withdrawn_at', 'withdrawn_by', 'withdrawn_reason', 'row_sum'])}`,
  );

  const saveWholeRun = (row: SavedRun): void => void saveRun.run({ ...row, record_sum: recordSum(row.record), record_shape: runShape, row_sum: runSum(row) });
  return {
    saveStream: (row: StreamChange): void => void saveStream.run({ ...row, row_sum: streamSum(row) }),
    /**
     * Moves the times at which streams were heard by `step`, after the wall clock was set. A row that differs from what was written stays as it is; the
     * same holds for the next statement.
     */
    shiftHeard: (step: number): void => {
      for (const row of streams.all()) {
        if (row.heard === null || !isRowAsWritten(row, streamSum)) continue;
        const heard = row.heard + step;
        saveStream.run({ ...row, heard, row_sum: streamSum({ ...row, heard }) });
      }
    },
    finishedAt: (finished: number, run: string): void => {
      const row = runById.get(run);
      if (row !== undefined && isRowAsWritten(row, runSum)) finishedAt.run(finished, runSum({ ...row, finished }), run);
    },
    /** Saves a boot, with the changed pieces of its long marks. */
    saveBoot: ({ stream, boot, rank, marks, taken, through, pieces, dropped }: BootChange): void => {
      const sum = bootSum({ boot, rank, marks, taken, through });
      if (markBoot.run(marks, taken, through, sum, stream, boot).changes === 0) addBoot.run(stream, boot, rank, marks, taken, through, sum);
      if (pieces.length === 0 && dropped.length === 0) return;
      const id = bootId.get(stream, boot)?.id ?? 0;
      for (const { arc, piece, steps } of pieces) saveMarkPiece.run(id, arc, piece, steps, markPieceSum({ boot_id: id, arc, piece, steps }));
      for (const { arc, before } of dropped) dropMarkPieces.run(id, arc, before);
    },
    /** Saves an assignment at its place among those of the stream; an assignment already there keeps the time at which it was received. */
    saveAssignment: ({ stream, position, received, anchor, body }: ChangeSet['assignments'][number]): void => {
      const sum = assignmentSum({ anchor, body });
      if (correctAssignment.run(anchor, body, sum, stream, position).changes === 0) addAssignment.run(stream, received, anchor, body, sum);
    },
    saveRun: saveWholeRun,
    /** Rewrites the columns of a run that change while it is welded; no index contains any of them. */
    rewriteRun: (row: SavedRun): void => {
      if (rewriteRun.run(row.span, row.marks, row.record, recordSum(row.record), runShape, runSum(row), row.id).changes === 0) saveWholeRun(row);
    },
    /** Stores one piece of a run's excursions if it differs. */
    saveExcursions: (run: string, piece: number, list: string): void => void saveExcursions.run(run, piece, list, excursionSum({ run_id: run, piece, list })),
    addSensors: ({ stream, revision, at, by, after, body }: ChangeSet['sensors'][number]): void =>
      void addSensors.run(stream, revision, at, by, after, body, sensorsSum({ stream_id: stream, revision, at, by, after, body })),
    saveDensity: ({ run, arc, cells }: Extract<ChangeSet['densities'][number], { readonly cells: string }>): void => void saveDensity.run(run, arc, cells, densitySum({ run_id: run, arc, cells })),
    addLate: ({ run, received, boot, seq, arc, time, item }: ChangeSet['late'][number]): void =>
      void addLate.run(run, received, boot, seq, arc, time, item, lateSum({ run_id: run, received, boot, seq, arc, time, item })),
    saveAlarm: (row: SavedAlarm): void => void saveAlarm.run({ ...row, row_sum: alarmSum(row) }),
    addProcedure: (own: ChangeSet['procedures'][number]): void => void addProcedure.run(own.id, own.revision, own.created, own.by, own.body, procedureSum(own)),
    saveTemperature: (row: ChangeSet['temperatures'][number]): void => void saveTemperature.run({ ...row, row_sum: temperatureSum(row) }),
    addJobChange: ({ site, carriage, run, at, by, reason, before, after }: JobChange): void =>
      void addJobChange.run(site, carriage, run, at, by, reason, before, after, jobChangeSum({ site, carriage, run_id: run, at, by, reason, before, after })),
  };
}

/** The named parameters of columns. */
function names(columns: string): string {
  return columns.split(', ').map((name) => `@${name}`).join(', ');
}

function quoted(columns: string): string {
  return columns.split(', ').map((name) => `"${name}"`).join(', ');
}

function taken(columns: readonly string[]): string {
  return columns.map((name) => `"${name}" = excluded."${name}"`).join(', ');
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

/** What `read` returns. A number that no row can hold, or a text that is not JSON, counts as damage too; an unavailable store does not. */
export function reading<Result>(what: string, read: () => Result): Result {
  try {
    return read();
  } catch (thrown) {
    if (isStorageError(thrown) || isDamageError(thrown)) throw thrown;
    throw damageError('seamwarden.db', what, thrown);
  }
}

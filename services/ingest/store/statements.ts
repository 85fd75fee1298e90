import type { SavedRun } from '../../../shared/records/change-set.js';
import { alarmSum, type SummedStream } from '../../../shared/records/row-sum.js';
import type { StoredProcedure } from '../../../shared/records/procedures.js';
import type { SqliteFile, SqliteStatement as Statement } from '../../../shared/sqlite/sqlite-file.js';
import { checkedRows, runColumnNames, streamColumns, type RowReader } from './summed-rows.js';

/** The statements by which the ingest thread reads. */
export interface Statements {
  readonly db: SqliteFile;
  /** The row as it is, which may differ from what was written. */
  readonly streamByName: Statement<[string, string, string], StreamRow>;
  readonly findStream: Statement<[string, string, string], { id: number }>;
  readonly stream: Statement<[number], StreamRow>;
  /** Carriages, the most recently heard first, without the retired ones. */
  readonly liveStreams: Statement<[], { id: number; site: string; carriage: string; settled: number }>;
  /** Carriages that may have something in progress, retired or not. */
  readonly unsettledStreams: Statement<[], { site: string; carriage: string }>;
  readonly countCarriages: Statement<[], { count: number }>;
  /** Carriages without runs and alarms from which nothing was heard since a time, µs; `assignedTo`: carriages whose assignment names a procedure. */
  readonly unusedCarriages: Statement<[number], { id: number; site: string; carriage: string }>;
  readonly assignedTo: Statement<[string], { site: string; carriage: string }>;
  readonly hasHistory: Statement<[number, number, string, string], { found: number }>;
  readonly lastAssignment: Statement<[number], AssignmentRow>;
  readonly streamById: Statement<[number], { site: string; carriage: string; stream: string }>;
  readonly boots: Statement<[number], BootRow>;
  /** The pieces of long marks, over all boots of a stream, in order. */
  readonly markPieces: Statement<[number], { boot_id: number; arc: number; piece: number; steps: string; row_sum: number | null }>;
  readonly hasTime: Statement<[number, number, number], { found: number }>;
  readonly keptFrom: Statement<[number, number], KeptRow>;
  readonly firstKept: Statement<[number, number], { id: number; first: number }>;
  /** The last number given to a row of a table. */
  readonly lastNumber: Statement<[table: string], { seq: number }>;
  readonly assignments: Statement<[number], AssignmentRow>;
  readonly checkpoints: Statement<[number], CheckpointRow>;
  readonly checkpointState: Statement<[number], { state: Uint8Array }>;
  readonly lateOf: Statement<[number], { item: string }>;
  readonly timeCount: Statement<[number], { count: number }>;
  /** The `most` runs of a stream that began last; the lowest ordinal of all of its runs. */
  readonly runsOf: Statement<[stream: number, most: number], RunRow>;
  readonly leastOrdinal: Statement<[number], { ordinal: number | null }>;
  /** Of the runs that ended before a time, the first whose items end at or after a place; and the last of them. */
  readonly decidedBehind: Statement<[stream: number, before: number, rank: number, key: number], { id: string }>;
  readonly lastDecided: Statement<[stream: number, before: number], { id: string }>;
  /** The last of the runs before an ordinal. */
  readonly runBefore: Statement<[stream: number, ordinal: number], { id: string }>;
  readonly run: Statement<[string], RunRow>;
  /** The runs of any stream along a seam under a run number. */
  readonly passes: Statement<[seam: string, run: number], { id: string; stream_id: number; started: number }>;
  readonly importOf: Statement<[number], { at: number; file: string | null; by: string | null }>;
  readonly procedures: Statement<[string], StoredProcedure>;
  readonly tookAssignment: Statement<[number, string], { found: number }>;
  readonly alarm: RowReader<[string], AlarmRow>;
  /** The alarms of a stream that are not over, or are shelved. */
  readonly lastingAlarms: RowReader<[number, number], AlarmRow>;
  /** The alarms of a stream that are over, shelved or suppressed and not back to normal, the newest first. */
  readonly newestAlarms: RowReader<[number, number], AlarmRow>;
  readonly clearedAlarms: Statement<[number], { count: number }>;
  readonly alarmsOfRun: RowReader<[string], AlarmRow>;
  /** The alarms of a run, or of a site and carriage, that are not back to normal. */
  readonly openOfRun: RowReader<[string], AlarmRow>;
  readonly openOfCarriage: RowReader<[string, string], AlarmRow>;
  readonly serviceAlarms: Statement<[], AlarmRow>;
}

export interface StreamRow extends SummedStream {
  readonly id: number;
  readonly row_sum: number | null;
}

export interface BootRow {
  readonly id: number;
  readonly boot: string;
  readonly rank: number;
  readonly marks: string;
  readonly taken: string | null;
  readonly through: number | null;
  readonly row_sum: number | null;
}

export interface AssignmentRow {
  readonly id: number;
  readonly anchor: string;
  readonly body: string | null;
  readonly row_sum: number | null;
}

export interface AlarmRow {
  readonly number: number;
  readonly stream_id: number | null;
  readonly id: string;
  readonly state: string;
  readonly over: number;
  readonly facts: string;
  readonly row_sum: number | null;
}

export interface KeptRow {
  /** Number of the message; for a pack, the number of its last message. */
  readonly id: number;
  readonly arrived: number;
  readonly kind: string;
  readonly payload: Uint8Array;
  readonly taken: string | null;
  /** Number of a pack's first message; null for a single message. */
  readonly first: number | null;
}

export interface CheckpointRow {
  readonly id: number;
  readonly position: string;
  readonly kept_from: number;
  readonly created: number;
}

export interface RunRow extends SavedRun {
  readonly row_sum: number | null;
}

const procedureColumns = 'id, revision, created, "by", body, row_sum';
const alarmColumns = 'number, stream_id, id, state, over, facts, row_sum';

export function prepareStatements(db: SqliteFile): Statements {
  return {
    db,
    streamByName: db.prepare(`select ${streamColumns} from streams where site = ? and carriage = ? and stream = ?`),
    findStream: db.prepare('select id from streams where site = ? and carriage = ? and stream = ?'),
    stream: db.prepare(`select ${streamColumns} from streams where id = ?`),
    liveStreams: db.prepare("select id, site, carriage, settled = 1 as settled from streams where stream = '' and retired = 0 order by heard desc, id"),
    unsettledStreams: db.prepare("select site, carriage from streams where stream = '' and (settled = 0 or (snapshot is null and retired = 0)) order by heard desc, id"),
    countCarriages: db.prepare("select count(*) as count from streams where stream = '' and retired = 0"),
    unusedCarriages: db.prepare(
      `select id, site, carriage from streams as own where stream = '' and heard < ?
        and not exists (select 1 from runs where stream_id = own.id)
        and not exists (select 1 from alarms where alarms.carriage = own.carriage and alarms.site = own.site and alarms.stream_id = own.id)
        and (select body from assignments where stream_id = own.id order by id desc limit 1) is null limit 100`,
    ),
    assignedTo: db.prepare("select site, carriage from streams where stream = '' and retired = 0 and json_extract(snapshot, '$.assignment.procedure') = ?"),
    hasHistory: db.prepare('select 1 as found where exists (select 1 from runs where stream_id = ?) or exists (select 1 from alarms where stream_id = ? and carriage = ? and site = ?)'),
    lastAssignment: db.prepare('select id, anchor, body, row_sum from assignments where stream_id = ? order by id desc limit 1'),
    streamById: db.prepare('select site, carriage, stream from streams where id = ?'),
    boots: db.prepare('select id, boot, rank, marks, taken, through, row_sum from boots where stream_id = ? order by rank'),
    markPieces: db.prepare('select boot_id, arc, piece, steps, row_sum from mark_pieces where boot_id in (select id from boots where stream_id = ?) order by boot_id, arc, piece'),
    hasTime: db.prepare('select 1 as found from time_marks where stream_id = ? and arc = ? and time = ?'),
    keptFrom: db.prepare('select id, arrived, kind, payload, taken, first from kept where stream_id = ? and id >= ? order by id'),
    firstKept: db.prepare('select id, coalesce(first, id) as first from kept where stream_id = ? and id >= ? order by id limit 1'),
    lastNumber: db.prepare('select seq from sqlite_sequence where name = ?'),
    assignments: db.prepare('select id, anchor, body, row_sum from assignments where stream_id = ? order by id'),
    checkpoints: db.prepare('select id, position, kept_from, created from checkpoints where stream_id = ? order by id'),
    checkpointState: db.prepare('select state from checkpoints where id = ?'),
    lateOf: db.prepare('select item from late where run_id in (select id from runs where stream_id = ?)'),
    timeCount: db.prepare('select count(*) as count from time_marks where stream_id = ?'),
    decidedBehind: db.prepare(
      `select id from runs where stream_id = ? and finished < ? and (json_extract(span, '$.to.rank'), json_extract(span, '$.to.key')) >= (?, ?)
       order by json_extract(span, '$.to.rank'), json_extract(span, '$.to.key') limit 1`,
    ),
    lastDecided: db.prepare('select id from runs where stream_id = ? and finished < ? order by started desc limit 1'),
    runBefore: db.prepare("select id from runs where stream_id = ? and json_extract(span, '$.ordinal') < ? order by started desc limit 1"),
    runsOf: db.prepare(`select ${runColumnNames} from runs where stream_id = ? order by started desc limit ?`),
    leastOrdinal: db.prepare("select min(json_extract(span, '$.ordinal')) as ordinal from runs where stream_id = ?"),
    run: db.prepare(`select ${runColumnNames} from runs where id = ?`),
    passes: db.prepare('select id, stream_id, started from runs where seam = ? and run = ?'),
    importOf: db.prepare('select at, file, "by" from imports where stream_id = ?'),
    procedures: db.prepare(`select ${procedureColumns} from procedures where id = ? order by revision`),
    tookAssignment: db.prepare('select 1 as found from taken_assignments where stream_id = ? and message = ? limit 1'),
    alarm: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where id = ?`), 'an alarm', alarmSum),
    lastingAlarms: checkedRows(db.prepare<[number, number], AlarmRow>(
      `select ${alarmColumns} from (select ${alarmColumns} from alarms where stream_id = ? and over = 0
        union select ${alarmColumns} from alarms where stream_id = ? and state <> 'normal' and state = 'shelved') order by number`,
    ), 'an alarm', alarmSum),
    newestAlarms: checkedRows(db.prepare<[number, number], AlarmRow>(
      `select ${alarmColumns} from alarms indexed by alarms_standing where stream_id = ? and state <> 'normal' and state not in ('unacknowledged', 'acknowledged') order by number desc limit ?`,
    ), 'an alarm', alarmSum),
    clearedAlarms: db.prepare("select count(*) as count from alarms where stream_id = ? and state <> 'normal' and state = 'returned'"),
    alarmsOfRun: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where run_id = ? order by number`), 'an alarm', alarmSum),
    openOfRun: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where run_id = ? and state <> 'normal' order by number`), 'an alarm', alarmSum),
    openOfCarriage: checkedRows(db.prepare<[string, string], AlarmRow>(`select ${alarmColumns} from alarms where carriage = ? and site = ? and state <> 'normal' order by number`), 'an alarm', alarmSum),
    serviceAlarms: db.prepare(`select ${alarmColumns} from alarms where stream_id is null and state <> 'normal' and (over = 0 or state = 'shelved') order by number`),
  };
}

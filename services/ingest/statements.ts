import { alarmSum, procedureSum, type SummedStream } from '../../shared/records/row-sum.js';
import type { StoredProcedure } from '../../shared/records/procedures.js';
import type { SqliteFile, SqliteStatement as Statement } from '../../shared/sqlite/sqlite-file.js';
import { checkedRows, runColumnNames, streamColumns, summedRows, type RowReader, type SummedRows } from './summed-rows.js';

/** The prepared statements of the one writing connection. */
export interface Statements extends SummedRows {
  readonly db: SqliteFile;
  /** The row as it is, which may be other than it was written. */
  readonly streamByName: Statement<[string, string, string], StreamRow>;
  readonly findStream: Statement<[string, string, string], { id: number }>;
  readonly stream: Statement<[number], StreamRow>;
  /** Carriages, those heard last first; retired ones are not among them. */
  readonly liveStreams: Statement<[], { id: number; site: string; carriage: string; settled: number }>;
  /** Those that something may be under way for, retired or not. */
  readonly unsettledStreams: Statement<[], { site: string; carriage: string }>;
  readonly countCarriages: Statement<[], { count: number }>;
  /** Carriages without runs and alarms that nothing was heard from since, µs; `assignedTo` those whose assignment names a procedure. */
  readonly unusedCarriages: Statement<[number], { id: number; site: string; carriage: string }>;
  readonly assignedTo: Statement<[string], { site: string; carriage: string }>;
  readonly hasHistory: Statement<[number, number, string, string], { found: number }>;
  /** Each forgets one kind of rows of a stream, in the order in which they refer to each other. */
  readonly forgetStream: readonly Statement<[number]>[];
  readonly lastAssignment: Statement<[number], AssignmentRow>;
  /** After the wall clock was set: so much later, and not before now. */
  readonly shiftCheckpoints: Statement<[number]>;
  readonly clampCheckpoints: Statement<[number, number]>;
  readonly streamById: Statement<[number], { site: string; carriage: string; stream: string }>;
  readonly boots: Statement<[number], { id: number; boot: string; rank: number; marks: string; taken: string | null; row_sum: number | null }>;
  /** Pieces of long marks: of all boots of a stream in order; those before one dropped. */
  readonly markPieces: Statement<[number], { boot_id: number; arc: number; piece: number; steps: string; row_sum: number | null }>;
  readonly dropMarkPieces: Statement<[boot: number, arc: number, before: number]>;
  readonly hasTime: Statement<[number, number, number], { found: number }>;
  readonly addTime: Statement<[number, number, number]>;
  readonly trimTimes: Statement<[number, number, number, number]>;
  /** What comes in is a pack, whose positions stand within it. */
  readonly keep: Statement<[id: number, stream: number, arrived: number, kind: string, payload: Uint8Array, first: number]>;
  readonly keptFrom: Statement<[number, number], KeptRow>;
  readonly firstKept: Statement<[number, number], { id: number; first: number }>;
  readonly lastNumber: Statement<[], { seq: number }>;
  readonly cutKept: Statement<[number, string, Uint8Array, number, number]>;
  readonly dropKept: Statement<[number, number, number]>;
  readonly assignments: Statement<[number], AssignmentRow>;
  readonly addCheckpoint: Statement<[number, string, number, number, Uint8Array]>;
  readonly checkpoints: Statement<[number], CheckpointRow>;
  readonly checkpointState: Statement<[number], { state: Uint8Array }>;
  readonly dropCheckpoint: Statement<[number]>;
  readonly setFloor: Statement<[position: string, state: Uint8Array | null, id: number]>;
  readonly lateOf: Statement<[number], { item: string }>;
  readonly timeCount: Statement<[number], { count: number }>;
  readonly dropRun: Statement<[string]>;
  /** Drops the pieces of a run's excursions from one on. */
  readonly dropExcursions: Statement<[run: string, from: number]>;
  readonly runsOf: Statement<[number], RunRow>;
  /** Of the runs that ended before a time, the first whose items end at a place or behind it; and the last one. */
  readonly decidedBehind: Statement<[stream: number, before: number, rank: number, key: number], { id: string }>;
  readonly lastDecided: Statement<[stream: number, before: number], { id: string }>;
  /** The last of the runs before an ordinal. */
  readonly runBefore: Statement<[stream: number, ordinal: number], { id: string }>;
  readonly run: Statement<[string], RunRow>;
  readonly attempts: Statement<[number, string, number, string, number], { count: number }>;
  readonly others: Statement<[string, number, number, string], { count: number }>;
  readonly importOf: Statement<[number], { at: number; file: string | null; by: string | null }>;
  readonly addImport: Statement<[number, number, string | null, string | null]>;
  readonly refuse: Statement<[number, string, string, number, Uint8Array]>;
  readonly trimRefused: Statement<[number]>;
  readonly procedure: RowReader<[string], { revision: number; body: string }>;
  readonly procedureRevision: RowReader<[string, number], { revision: number; body: string }>;
  readonly tookAssignment: Statement<[number, string], { found: number }>;
  readonly noteAssignment: Statement<[number, string]>;
  readonly trimAssignments: Statement<[number, number]>;
  readonly alarm: RowReader<[string], AlarmRow>;
  /** Those of a stream that are not over, or shelved. */
  readonly lastingAlarms: RowReader<[number, number], AlarmRow>;
  /** Those of a stream that are over, shelved or suppressed and not normal, the newest first. */
  readonly newestAlarms: RowReader<[number, number], AlarmRow>;
  readonly clearedAlarms: Statement<[number], { count: number }>;
  readonly alarmState: Statement<[string], { state: string }>;
  readonly alarmsOfRun: RowReader<[string], AlarmRow>;
  /** Those of a run, or of a carriage and a site, that are not normal. */
  readonly openOfRun: RowReader<[string], AlarmRow>;
  readonly openOfCarriage: RowReader<[string, string], AlarmRow>;
  readonly serviceAlarms: Statement<[], AlarmRow>;
  readonly probe: Statement<[number]>;
}

export interface StreamRow extends SummedStream {
  readonly id: number;
  readonly row_sum: number | null;
}

export interface AssignmentRow {
  readonly id: number;
  readonly anchor: string;
  readonly body: string | null;
  readonly row_sum: number | null;
}

export interface AlarmRow {
  readonly stream_id: number | null;
  readonly id: string;
  readonly state: string;
  readonly over: number;
  readonly facts: string;
  readonly row_sum: number | null;
}

export interface SavedAlarm {
  readonly id: string;
  readonly stream_id: number | null;
  readonly run_id: string | null;
  readonly site: string | null;
  readonly carriage: string | null;
  readonly state: string;
  /** µs by the service's clock. */
  readonly recorded: number | null;
  readonly priority: string;
  readonly seam: string | null;
  readonly over: 0 | 1;
  readonly facts: string;
  readonly record: string;
  readonly record_sum: number;
}

export interface KeptRow {
  /** Number of the message, of a pack that of its last. */
  readonly id: number;
  readonly arrived: number;
  readonly kind: string;
  readonly payload: Uint8Array;
  readonly taken: string | null;
  /** Number of a pack's first message; null for a message alone. */
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

export interface SavedRun {
  readonly id: string;
  readonly stream_id: number;
  readonly site: string;
  readonly carriage: string;
  readonly seam: string | null;
  readonly run: number | null;
  readonly attempt: number;
  readonly assigned: number;
  readonly state: string;
  readonly simulated: number;
  readonly started: number;
  readonly ended: number | null;
  readonly version: number;
  readonly finished: number | null;
  readonly span: string;
  readonly marks: string;
  readonly override: string | null;
  readonly record: string;
  readonly procedure: string | null;
  readonly operator: string | null;
  readonly lots: string | null;
  readonly excursions: number;
  readonly complete: number;
  readonly judged: number;
  readonly length: number | null;
}

const procedureColumns = 'id, revision, created, "by", body, row_sum';
const alarmColumns = 'stream_id, id, state, over, facts, row_sum';

export function prepareStatements(db: SqliteFile): Statements {
  const stream = db.prepare<[number], StreamRow>(`select ${streamColumns} from streams where id = ?`);
  const run = db.prepare<[string], RunRow>(`select ${runColumnNames} from runs where id = ?`);
  return {
    ...summedRows(db, { stream, run }),
    db,
    streamByName: db.prepare(`select ${streamColumns} from streams where site = ? and carriage = ? and stream = ?`),
    findStream: db.prepare('select id from streams where site = ? and carriage = ? and stream = ?'),
    stream,
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
    forgetStream: ['checkpoints', 'kept', 'time_marks', 'boots', 'assignments', 'taken_assignments'].map((table) => db.prepare<[number]>(`delete from ${table} where stream_id = ?`)).concat(db.prepare<[number]>('delete from streams where id = ?')),
    lastAssignment: db.prepare('select id, anchor, body, row_sum from assignments where stream_id = ? order by id desc limit 1'),
    shiftCheckpoints: db.prepare('update checkpoints set created = created + ?'),
    clampCheckpoints: db.prepare('update checkpoints set created = ? where created > ?'),
    streamById: db.prepare('select site, carriage, stream from streams where id = ?'),
    boots: db.prepare('select id, boot, rank, marks, taken, row_sum from boots where stream_id = ? order by rank'),
    markPieces: db.prepare('select boot_id, arc, piece, steps, row_sum from mark_pieces where boot_id in (select id from boots where stream_id = ?) order by boot_id, arc, piece'),
    dropMarkPieces: db.prepare('delete from mark_pieces where boot_id = ? and arc = ? and piece < ?'),
    hasTime: db.prepare('select 1 as found from time_marks where stream_id = ? and arc = ? and time = ?'),
    addTime: db.prepare('insert into time_marks (stream_id, arc, time) values (?, ?, ?)'),
    trimTimes: db.prepare(
      'delete from time_marks where stream_id = ? and arc = ? and time < (select time from time_marks where stream_id = ? and arc = ? order by time desc limit 1 offset 100000)',
    ),
    keep: db.prepare('insert into kept (id, stream_id, arrived, kind, payload, first) values (?, ?, ?, ?, ?, ?)'),
    keptFrom: db.prepare('select id, arrived, kind, payload, taken, first from kept where stream_id = ? and id >= ? order by id'),
    firstKept: db.prepare('select id, coalesce(first, id) as first from kept where stream_id = ? and id >= ? order by id limit 1'),
    lastNumber: db.prepare("select seq from sqlite_sequence where name = 'kept'"),
    cutKept: db.prepare('update kept set arrived = ?, kind = ?, payload = ?, first = ? where id = ?'),
    dropKept: db.prepare('delete from kept where id in (select id from kept where stream_id = ? and id < ? order by id limit ?)'),
    assignments: db.prepare('select id, anchor, body, row_sum from assignments where stream_id = ? order by id'),
    addCheckpoint: db.prepare('insert into checkpoints (stream_id, position, kept_from, created, state) values (?, ?, ?, ?, ?)'),
    checkpoints: db.prepare('select id, position, kept_from, created from checkpoints where stream_id = ? order by id'),
    checkpointState: db.prepare('select state from checkpoints where id = ?'),
    dropCheckpoint: db.prepare('delete from checkpoints where id = ?'),
    setFloor: db.prepare('update checkpoints set position = ?, state = coalesce(?, state) where id = ?'),
    lateOf: db.prepare('select item from late where run_id in (select id from runs where stream_id = ?)'),
    timeCount: db.prepare('select count(*) as count from time_marks where stream_id = ?'),
    dropRun: db.prepare('delete from runs where id = ?'),
    dropExcursions: db.prepare('delete from excursion_pieces where run_id = ? and piece >= ?'),
    decidedBehind: db.prepare(
      `select id from runs where stream_id = ? and finished < ? and (json_extract(span, '$.to.rank'), json_extract(span, '$.to.key')) >= (?, ?)
       order by json_extract(span, '$.to.rank'), json_extract(span, '$.to.key') limit 1`,
    ),
    lastDecided: db.prepare('select id from runs where stream_id = ? and finished < ? order by started desc limit 1'),
    runBefore: db.prepare("select id from runs where stream_id = ? and json_extract(span, '$.ordinal') < ? order by started desc limit 1"),
    runsOf: db.prepare(`select ${runColumnNames} from runs where stream_id = ? order by started desc limit 200`),
    run,
    attempts: db.prepare('select count(*) as count from runs where stream_id = ? and seam = ? and run = ? and id <> ? and started < ?'),
    others: db.prepare('select count(*) as count from runs where seam = ? and run = ? and stream_id <> ? and id <> ?'),
    importOf: db.prepare('select at, file, "by" from imports where stream_id = ?'),
    addImport: db.prepare('insert into imports (stream_id, at, file, "by") values (?, ?, ?, ?) on conflict do nothing'),
    refuse: db.prepare('insert into refused (received, topic, reason, size, head) values (?, ?, ?, ?, ?)'),
    trimRefused: db.prepare('delete from refused where id <= (select max(id) from refused) - ?'),
    procedure: checkedRows(db.prepare<[string], StoredProcedure>(`select ${procedureColumns} from procedures where id = ? order by revision desc limit 1`), 'a procedure', procedureSum),
    procedureRevision: checkedRows(db.prepare<[string, number], StoredProcedure>(`select ${procedureColumns} from procedures where id = ? and revision = ?`), 'a revision of a procedure', procedureSum),
    tookAssignment: db.prepare('select 1 as found from taken_assignments where stream_id = ? and message = ? limit 1'),
    noteAssignment: db.prepare('insert into taken_assignments (stream_id, message) values (?, ?)'),
    trimAssignments: db.prepare('delete from taken_assignments where stream_id = ? and number <= (select number from taken_assignments where stream_id = ? order by number desc limit 1 offset 1000)'),
    alarm: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where id = ?`), 'an alarm', alarmSum),
    lastingAlarms: checkedRows(db.prepare<[number, number], AlarmRow>(
      `select ${alarmColumns} from (select number, ${alarmColumns} from alarms where stream_id = ? and over = 0
        union select number, ${alarmColumns} from alarms where stream_id = ? and state <> 'normal' and state = 'shelved') order by number`,
    ), 'an alarm', alarmSum),
    newestAlarms: checkedRows(db.prepare<[number, number], AlarmRow>(
      `select ${alarmColumns} from alarms indexed by alarms_standing where stream_id = ? and state <> 'normal' and state not in ('unacknowledged', 'acknowledged') order by number desc limit ?`,
    ), 'an alarm', alarmSum),
    clearedAlarms: db.prepare("select count(*) as count from alarms where stream_id = ? and state <> 'normal' and state = 'returned'"),
    alarmState: db.prepare('select state from alarms where id = ?'),
    alarmsOfRun: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where run_id = ? order by number`), 'an alarm', alarmSum),
    openOfRun: checkedRows(db.prepare<[string], AlarmRow>(`select ${alarmColumns} from alarms where run_id = ? and state <> 'normal' order by number`), 'an alarm', alarmSum),
    openOfCarriage: checkedRows(db.prepare<[string, string], AlarmRow>(`select ${alarmColumns} from alarms where carriage = ? and site = ? and state <> 'normal' order by number`), 'an alarm', alarmSum),
    serviceAlarms: db.prepare(`select ${alarmColumns} from alarms where stream_id is null and state <> 'normal' and (over = 0 or state = 'shelved') order by number`),
    probe: db.prepare('insert into probe (id, written) values (1, ?) on conflict (id) do update set written = excluded.written'),
  };
}

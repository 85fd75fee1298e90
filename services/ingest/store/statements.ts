import type { SavedRun } from '../../../shared/records/change-set.js';
import type { TemperatureRow } from '../../../shared/records/temperatures.js';
import { alarmSum, sensorsSum, type SummedStream } from '../../../shared/records/row-sum.js';
import type { SensorRow } from '../../../shared/records/sensors.js';
import type { StoredProcedure } from '../../../shared/records/procedures.js';
import type { SqliteFile } from '../../../shared/sqlite/sqlite-file.js';
import { checkedRows, runColumnNames, streamColumns, type RowReader } from './summed-rows.js';

export type StreamRow = SummedStream & { readonly id: number; readonly row_sum: number | null };

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

export type RunRow = SavedRun & { readonly row_sum: number | null };

const procedureColumns = 'id, revision, created, "by", body, row_sum';
const alarmColumns = 'number, stream_id, id, state, over, facts, row_sum';

/** The statements by which the ingest thread reads. */
export type Statements = ReturnType<typeof prepareStatements>;

export function prepareStatements(db: SqliteFile) {
  const alarms = <Parameters extends unknown[]>(which: string): RowReader<Parameters, AlarmRow> =>
    checkedRows(db.prepare<Parameters, AlarmRow>(`select ${alarmColumns} from ${which}`), 'an alarm', alarmSum);
  return {
    db,
    /** The row as it is, which may differ from what was written. */
    streamByName: db.prepare<[string, string, string], StreamRow>(`select ${streamColumns} from streams where site = ? and carriage = ? and stream = ?`),
    findStream: db.prepare<[string, string, string], { id: number }>('select id from streams where site = ? and carriage = ? and stream = ?'),
    stream: db.prepare<[number], StreamRow>(`select ${streamColumns} from streams where id = ?`),
    /** Carriages, the most recently heard first, without the retired ones. */
    liveStreams: db.prepare<[], { id: number; site: string; carriage: string; settled: number }>("select id, site, carriage, settled = 1 as settled from streams where stream = '' and retired = 0 order by heard desc, id"),
    /** Carriages that may have something in progress, retired or not. */
    unsettledStreams: db.prepare<[], { site: string; carriage: string }>("select site, carriage from streams where stream = '' and (settled = 0 or (snapshot is null and retired = 0)) order by heard desc, id"),
    countCarriages: db.prepare<[], { count: number }>("select count(*) as count from streams where stream = '' and retired = 0"),
    /** Carriages without runs and alarms from which nothing was heard since a time, µs; `assignedTo`: carriages whose assignment names a procedure. */
    unusedCarriages: db.prepare<[number], { id: number; site: string; carriage: string }>(
      `select id, site, carriage from streams as own where stream = '' and heard < ?
        and not exists (select 1 from runs where stream_id = own.id)
        and not exists (select 1 from temperatures where stream_id = own.id)
        and not exists (select 1 from alarms where alarms.carriage = own.carriage and alarms.site = own.site and alarms.stream_id = own.id)
        and not exists (select 1 from sensors where stream_id = own.id)
        and (select body from assignments where stream_id = own.id order by id desc limit 1) is null limit 100`,
    ),
    assignedTo: db.prepare<[string], { site: string; carriage: string }>("select site, carriage from streams where stream = '' and retired = 0 and json_extract(snapshot, '$.assignment.procedure') = ?"),
    hasHistory: db.prepare<[number, number, number, string, string], { found: number }>('select 1 as found where exists (select 1 from runs where stream_id = ?) or exists (select 1 from temperatures where stream_id = ?) or exists (select 1 from alarms where stream_id = ? and carriage = ? and site = ?)'),
    lastAssignment: db.prepare<[number], AssignmentRow>('select id, anchor, body, row_sum from assignments where stream_id = ? order by id desc limit 1'),
    streamById: db.prepare<[number], { site: string; carriage: string; stream: string }>('select site, carriage, stream from streams where id = ?'),
    boots: db.prepare<[number], { id: number; boot: string; rank: number; marks: string; taken: string | null; through: number | null; row_sum: number | null }>(
      'select id, boot, rank, marks, taken, through, row_sum from boots where stream_id = ? order by rank',
    ),
    /** The pieces of long marks, over all boots of a stream, in order. */
    markPieces: db.prepare<[number], { boot_id: number; arc: number; piece: number; steps: string; row_sum: number | null }>('select boot_id, arc, piece, steps, row_sum from mark_pieces where boot_id in (select id from boots where stream_id = ?) order by boot_id, arc, piece'),
    hasTime: db.prepare<[number, number, number], { found: number }>('select 1 as found from time_marks where stream_id = ? and arc = ? and time = ?'),
    keptFrom: db.prepare<[number, number], KeptRow>('select id, arrived, kind, payload, taken, first from kept where stream_id = ? and id >= ? order by id'),
    firstKept: db.prepare<[number, number], { id: number; first: number }>('select id, coalesce(first, id) as first from kept where stream_id = ? and id >= ? order by id limit 1'),
    /** The last number given to a row of a table. */
    lastNumber: db.prepare<[table: string], { seq: number }>('select seq from sqlite_sequence where name = ?'),
    assignments: db.prepare<[number], AssignmentRow>('select id, anchor, body, row_sum from assignments where stream_id = ? order by id'),
    sensors: checkedRows(db.prepare<[number], SensorRow>('select stream_id, revision, at, by, after, body, row_sum from sensors where stream_id = ? order by revision'), 'a declaration of sensors', sensorsSum),
    /** The newest declaration for the live data of a carriage. */
    newestSensors: checkedRows(
      db.prepare<[string, string], SensorRow>("select stream_id, revision, at, by, after, body, row_sum from sensors where stream_id = (select id from streams where site = ? and carriage = ? and stream = '') order by revision desc limit 1"),
      'a declaration of sensors', sensorsSum,
    ),
    checkpoints: db.prepare<[number], { id: number; position: string; kept_from: number; created: number }>('select id, position, kept_from, created from checkpoints where stream_id = ? order by id'),
    checkpointState: db.prepare<[number], { state: Uint8Array }>('select state from checkpoints where id = ?'),
    lateOf: db.prepare<[number], { item: string }>('select item from late where run_id in (select id from runs where stream_id = ?)'),
    timeCount: db.prepare<[number], { count: number }>('select count(*) as count from time_marks where stream_id = ?'),
    /** Of the runs that ended before a time, the first whose items end at or after a place; and the last of them. */
    decidedBehind: db.prepare<[stream: number, before: number, rank: number, key: number], { id: string }>(
      `select id from runs where stream_id = ? and finished < ? and (json_extract(span, '$.to.rank'), json_extract(span, '$.to.key')) >= (?, ?)
       order by json_extract(span, '$.to.rank'), json_extract(span, '$.to.key') limit 1`,
    ),
    lastDecided: db.prepare<[stream: number, before: number], { id: string }>('select id from runs where stream_id = ? and finished < ? order by started desc limit 1'),
    /** The last of the runs before an ordinal. */
    runBefore: db.prepare<[stream: number, ordinal: number], { id: string }>("select id from runs where stream_id = ? and json_extract(span, '$.ordinal') < ? order by started desc limit 1"),
    /** The `most` runs of a stream that began last; the lowest ordinal of all of its runs. */
    runsOf: db.prepare<[stream: number, most: number], RunRow>(`select ${runColumnNames} from runs where stream_id = ? order by started desc limit ?`),
    leastOrdinal: db.prepare<[number], { ordinal: number | null }>("select min(json_extract(span, '$.ordinal')) as ordinal from runs where stream_id = ?"),
    run: db.prepare<[string], RunRow>(`select ${runColumnNames} from runs where id = ?`),
    /** The runs of any stream along a seam under a run number. */
    passes: db.prepare<[seam: string, run: number], { id: string; stream_id: number; started: number }>('select id, stream_id, started from runs where seam = ? and run = ?'),
    passesOfSeam: db.prepare<[seam: string], { id: string; run: number; stream_id: number; started: number }>('select id, run, stream_id, started from runs where seam = ? and run is not null'),
    /** The `most` measurements of a stream that were entered last, the last first; one of them; and those that may be for a run, in the order of entry. */
    temperaturesOf: db.prepare<[stream: number, most: number], TemperatureRow>('select * from temperatures where stream_id = ? order by number desc limit ?'),
    temperature: db.prepare<[string], TemperatureRow>('select * from temperatures where id = ?'),
    temperaturesFor: db.prepare<[run: string, stream: number, after: number, start: number], TemperatureRow>(
      'select * from temperatures where run_id = ? union select * from temperatures where run_id is null and stream_id = ? and at > ? and at <= ? order by number',
    ),
    /** The first run of a stream that began at a time or later. */
    firstRunFrom: db.prepare<[stream: number, from: number], { id: string }>('select id from runs where stream_id = ? and started >= ? order by started limit 1'),
    importOf: db.prepare<[number], { at: number; file: string | null; by: string | null }>('select at, file, "by" from imports where stream_id = ?'),
    procedures: db.prepare<[string], StoredProcedure>(`select ${procedureColumns} from procedures where id = ? order by revision`),
    tookAssignment: db.prepare<[number, string], { found: number }>('select 1 as found from taken_assignments where stream_id = ? and message = ? limit 1'),
    alarm: alarms<[string]>('alarms where id = ?'),
    /** The alarms of a stream that are not over, or are shelved. */
    lastingAlarms: alarms<[number, number]>(
      `(select ${alarmColumns} from alarms where stream_id = ? and over = 0
        union select ${alarmColumns} from alarms where stream_id = ? and state <> 'normal' and state = 'shelved') order by number`,
    ),
    /** The alarms of a stream that are over, shelved or suppressed and not back to normal, the newest first. */
    newestAlarms: alarms<[number, number]>(
      "alarms indexed by alarms_standing where stream_id = ? and state <> 'normal' and state not in ('unacknowledged', 'acknowledged') order by number desc limit ?",
    ),
    clearedAlarms: db.prepare<[number], { count: number }>("select count(*) as count from alarms where stream_id = ? and state <> 'normal' and state = 'returned'"),
    alarmsOfRun: alarms<[string]>('alarms where run_id = ? order by number'),
    /** The alarms of a run, or of a site and carriage, that are not back to normal. */
    openOfRun: alarms<[string]>("alarms where run_id = ? and state <> 'normal' order by number"),
    openOfCarriage: alarms<[string, string]>("alarms where carriage = ? and site = ? and state <> 'normal' order by number"),
    serviceAlarms: db.prepare<[], AlarmRow>(`select ${alarmColumns} from alarms where stream_id is null and state <> 'normal' and (over = 0 or state = 'shelved') order by number`),
  };
}

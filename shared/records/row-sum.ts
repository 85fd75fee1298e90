import { crc32 } from 'node:zlib';
import type { Selectable } from 'kysely';
import { boundNumber } from '../sqlite/bound-number.js';
import { changedSinceWritten } from '../sqlite/damage.js';
import type { DensityTable, SensorTable, TemperatureTable } from './measured-tables.js';
import type { AlarmTable, AssignmentTable, BootTable, ExcursionPieceTable, JobChangeTable, LateTable, MarkPieceTable, ProcedureTable, RunTable, StreamTable } from './tables.js';

/** CRC-32 (ISO 3309, as zlib has it) of the texts of values, with what no text holds between them and in place of null; numbers as they are stored. */
function sumOf(...values: readonly (string | number | null)[]): number {
  let text = '';
  for (const value of values) text += `${typeof value === 'number' ? boundNumber(value) : (value ?? '\u0000')}\u0001`;
  return crc32(text);
}

type Of<Table, Names extends keyof Selectable<Table>> = Readonly<Pick<Selectable<Table>, Names>>;

export type SummedStream = Of<StreamTable, 'site' | 'carriage' | 'stream' | 'online' | 'last_seen' | 'clock_offset' | 'snapshot' | 'settled' | 'retired' | 'heard'>;

/*
 * The checksum stored beside a row of each table. Numbers of rows are not part of it: they are assigned as a row is written, and rows are found by them.
 */

export function streamSum(row: SummedStream): number {
  return sumOf(row.site, row.carriage, row.stream, row.online, row.last_seen, row.clock_offset, row.snapshot, row.settled, row.retired, row.heard);
}

export function bootSum(row: Of<BootTable, 'boot' | 'rank' | 'marks' | 'taken' | 'through'>): number {
  const { boot, rank, marks, taken, through } = row;
  // Without a number it is the checksum of rows from before there was one.
  return through === null ? sumOf(boot, rank, marks, taken) : sumOf(boot, rank, marks, taken, through);
}

export function markPieceSum(row: Of<MarkPieceTable, 'boot_id' | 'arc' | 'piece' | 'steps'>): number {
  return sumOf(row.boot_id, row.arc, row.piece, row.steps);
}

export function assignmentSum(row: Of<AssignmentTable, 'anchor' | 'body'>): number {
  return sumOf(row.anchor, row.body);
}

export function sensorsSum(row: Of<SensorTable, 'stream_id' | 'revision' | 'at' | 'by' | 'after' | 'body'>): number {
  return sumOf(row.stream_id, row.revision, row.at, row.by, row.after, row.body);
}

export function densitySum(row: Of<DensityTable, 'run_id' | 'arc' | 'cells'>): number {
  return sumOf(row.run_id, row.arc, row.cells);
}

export type SummedRun = Omit<Selectable<RunTable>, 'state' | 'record' | 'record_sum' | 'record_shape' | 'row_sum'> & { readonly state: string };

/** The record has a sum of its own. */
export function runSum(row: Readonly<SummedRun>): number {
  return sumOf(
    row.id, row.stream_id, row.site, row.carriage, row.seam, row.run, row.attempt, row.assigned, row.state, row.simulated, row.started, row.ended, row.version, row.finished,
    row.span, row.marks, row.override, row.procedure, row.operator, row.lots, row.excursions, row.complete, row.judged, row.length,
  );
}

export function excursionSum(row: Of<ExcursionPieceTable, 'run_id' | 'piece' | 'list'>): number {
  return sumOf(row.run_id, row.piece, row.list);
}

export function lateSum(row: Of<LateTable, 'run_id' | 'received' | 'boot' | 'seq' | 'arc' | 'time' | 'item'>): number {
  return sumOf(row.run_id, row.received, row.boot, row.seq, row.arc, row.time, row.item);
}

export function procedureSum(row: Of<ProcedureTable, 'id' | 'revision' | 'created' | 'by' | 'body'>): number {
  return sumOf(row.id, row.revision, row.created, row.by, row.body);
}

/** What it is followed by; the rest may differ between the row of an alarm of an earlier version and these. */
export function alarmSum(row: Of<AlarmTable, 'id' | 'over' | 'facts'> & { readonly state: string }): number {
  return sumOf(row.id, row.state, row.over, row.facts);
}

export function jobChangeSum(row: Of<JobChangeTable, 'site' | 'carriage' | 'run_id' | 'at' | 'by' | 'reason' | 'before' | 'after'>): number {
  return sumOf(row.site, row.carriage, row.run_id, row.at, row.by, row.reason, row.before, row.after);
}

export type SummedTemperature = Omit<Selectable<TemperatureTable>, 'number' | 'row_sum'>;

export function temperatureSum(row: Readonly<SummedTemperature>): number {
  return sumOf(
    row.id, row.stream_id, row.run_id, row.kind, row.value, row.at, row.seam, row.place, row.seam_position, row.distance, row.instrument, row.by, row.reason, row.entered,
    row.withdrawn_at, row.withdrawn_by, row.withdrawn_reason,
  );
}

interface Summed {
  /** Null if an earlier version wrote it. */
  readonly row_sum: number | null;
}

export function isRowAsWritten<Row extends Summed>(row: Row, sum: (row: Row) => number): boolean {
  return row.row_sum === null || row.row_sum === sum(row);
}

/** The row itself. Throws an error of damage if it differs from what was written. */
export function rowAsWritten<Row extends Summed>(what: string, row: Row, sum: (row: Row) => number): Row {
  if (!isRowAsWritten(row, sum)) throw changedSinceWritten(what);
  return row;
}

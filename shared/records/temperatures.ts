import type { Kysely, Selectable } from 'kysely';
import type { Measurement } from '../weld/temperatures/measurement.js';
import { pageOf, type Page, type PageRequest } from './page.js';
import { rowAsWritten, temperatureSum, type SummedTemperature } from './row-sum.js';
import type { TemperatureTable } from './measured-tables.js';
import type { Database } from './tables.js';

export type TemperatureRow = Selectable<TemperatureTable>;

/** A measurement as its row, which its number and its sum are added to when it is written. */
export function temperatureRow(stream: number, own: Measurement): SummedTemperature {
  const { id, run, kind, value, at, seam, place, seamPosition, distance, instrument, by, reason, entered, withdrawn } = own;
  return {
    id, stream_id: stream, run_id: run, kind, value, at, seam, place, seam_position: seamPosition, distance, instrument, by, reason, entered,
    withdrawn_at: withdrawn?.at ?? null, withdrawn_by: withdrawn?.by ?? null, withdrawn_reason: withdrawn?.reason ?? null,
  };
}

/** Throws an error of damage if the row differs from what was written. */
export function readMeasurement(row: TemperatureRow): Measurement {
  const { id, run_id: run, kind, value, at, seam, place, seam_position: seamPosition, distance, instrument, by, reason, entered, withdrawn_at, withdrawn_by, withdrawn_reason } =
    rowAsWritten('a measured temperature', row, temperatureSum);
  const withdrawn = withdrawn_at === null ? null : { at: withdrawn_at, by: withdrawn_by ?? '', reason: withdrawn_reason };
  return { id, run, kind, value, at, seam, place, seamPosition, distance, instrument, by, reason, entered, withdrawn };
}

/** As much of a run as decides which measurements may be for it: µs by the clock of its carriage. */
export interface MeasuredRun {
  readonly id: string;
  readonly stream_id: number;
  readonly started: number;
  readonly before: number | null;
}

/** Where measurements are listed: those of a run, which may have been entered at its carriage, or those entered at a carriage. */
export type MeasuredAt = MeasuredRun | { readonly stream_id: number };

function measuredAt(records: Kysely<Database>, where: MeasuredAt) {
  const rows = records.selectFrom('temperatures').selectAll().where('stream_id', '=', where.stream_id);
  if (!('id' in where)) return rows.where('run_id', 'is', null);
  const { id, started, before } = where;
  return rows.where((is) => is.or([
    is('run_id', '=', id),
    is.and([is('run_id', 'is', null), is('at', '<=', started), is('at', '>', before ?? Number.MIN_SAFE_INTEGER)]),
  ]));
}

/** All that may have been entered for a run, in the order in which it was entered; the seam is not looked at. */
export async function measurementsFor(records: Kysely<Database>, run: MeasuredRun): Promise<Measurement[]> {
  return (await measuredAt(records, run).orderBy('number').execute()).map(readMeasurement);
}

/** A page of them, the one entered last first; those entered at the carriage for another seam are left out. */
export async function listMeasurements(records: Kysely<Database>, where: MeasuredAt, seam: string | null, page: PageRequest): Promise<Page<TemperatureRow>> {
  let query = measuredAt(records, where);
  if ('id' in where) query = query.where((is) => is.or([is('run_id', 'is not', null), is('seam', 'is', null), ...(seam === null ? [] : [is('seam', '=', seam)])]));
  if (page.after !== null) query = query.where('number', '<', page.after.at);
  const rows = await query.orderBy('number', 'desc').limit(page.limit + 1).execute();
  return pageOf(rows, page.limit, ({ number }) => ({ at: number, id: '' }));
}

/** One of them; undefined if there is none of that id there. */
export async function findMeasurement(records: Kysely<Database>, where: MeasuredAt, id: string): Promise<TemperatureRow | undefined> {
  return await measuredAt(records, where).where('id', '=', id).executeTakeFirst();
}

import { readMeasurement } from '../../../shared/records/temperatures.js';
import { rowAsWritten, runSum } from '../../../shared/records/row-sum.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import { isMeasuredFor } from '../../../shared/weld/temperatures/run-temperatures.js';
import type { MeasuredWhere, PortFailure } from '../../ingest-port.js';
import type { Carriage } from '../fold/carriage.js';
import { assignmentInForce } from '../fold/in-force.js';
import { assignmentOfRun } from '../fold/intake.js';
import type { RunEntry, SavedSpan } from '../fold/run-book.js';
import { knownOf } from '../fold/run-temperature.js';
import { startUnder } from '../fold/sums-under.js';
import type { RunRow } from '../store/statements.js';
import type { GatheredTemperature, MeasuredRunState } from './enter-temperature.js';
import { addRowsUnder, storedMarks } from './gather-run.js';
import type { StreamAccess } from './stream-access.js';
import { ensureNamed, storedEntry } from './stream-load.js';

/** Where something is measured. A carriage that nobody has heard of yet is created. */
export function gatherWhere(where: MeasuredWhere, streams: StreamAccess): PortFailure | { readonly carriage: Carriage; readonly run: string | null } {
  if (!('run' in where)) return { carriage: streams.stream(where.site, where.carriage, ''), run: null };
  const { statements } = streams;
  const none: PortFailure = { failed: 'notFound', reason: `there is no run ${where.run}` };
  const row = statements.run.get(where.run);
  const name = row === undefined ? undefined : statements.streamById.get(row.stream_id);
  return name === undefined ? none : { carriage: streams.stream(name.site, name.carriage, name.stream), run: where.run };
}

/** A measurement that is to be entered. */
export function gatherEntered(where: MeasuredWhere, make: (carriage: Carriage, run: string | null) => Measurement, streams: StreamAccess): PortFailure | GatheredTemperature {
  const found = gatherWhere(where, streams);
  if ('failed' in found) return found;
  const { carriage, run } = found;
  return gathered(carriage, make(carriage, run), streams);
}

/** A measurement that is to be withdrawn, as it will be then; unchanged if it was withdrawn before. */
export function gatherWithdrawn(where: MeasuredWhere, id: string, withdraw: (own: Measurement) => Measurement, streams: StreamAccess): PortFailure | GatheredTemperature {
  const { statements } = streams;
  const none: PortFailure = { failed: 'notFound', reason: `there is no temperature ${id} there` };
  const row = statements.temperature.get(id);
  const name = row === undefined ? undefined : statements.streamById.get(row.stream_id);
  if (row === undefined || name === undefined) return none;
  const own = readMeasurement(row);
  if (!('run' in where) && (own.run !== null || name.stream !== '' || name.site !== where.site || name.carriage !== where.carriage)) return none;
  if ('run' in where) {
    const run = statements.run.get(where.run);
    if (run === undefined || run.stream_id !== row.stream_id) return none;
    if (own.run !== where.run && !isMeasuredFor(own, { run: run.id, begin: storedMarks(run.marks), assignment: { seam: run.seam ?? '', run: run.run ?? 0 } })) return none;
  }
  const carriage = streams.stream(name.site, name.carriage, name.stream);
  return own.withdrawn === null ? gathered(carriage, withdraw(own), streams) : { carriage, measured: own, of: null };
}

function gathered(carriage: Carriage, measured: Measurement, streams: StreamAccess): PortFailure | GatheredTemperature {
  ensureNamed(assignmentInForce(carriage), streams.statements, streams.fold);
  const of = measuredRun(carriage, measured, streams);
  return of !== null && 'failed' in of ? of : { carriage, measured, of };
}

/** The run that a measurement is for; null if there is none yet, or none of that seam. */
function measuredRun(carriage: Carriage, measured: Measurement, streams: StreamAccess): PortFailure | MeasuredRunState | null {
  const { statements } = streams;
  const id = measured.run ?? statements.firstRunFrom.get(carriage.id, measured.at)?.id;
  const row = id === undefined ? undefined : statements.run.get(id);
  if (row === undefined) return null;
  rowAsWritten(`run ${row.id}`, row, runSum);
  const entry = [...carriage.runs.entries.values()].find((own) => own.id === row.id) ?? storedEntry(row, JSON.parse(row.span) as SavedSpan, streams.fold.now());
  const assignment = assignmentOfRun(carriage.intake, entry);
  if (!isMeasuredFor(measured, { run: row.id, begin: storedMarks(row.marks), assignment })) return null;
  if (row.state !== 'finished') return { entry, anew: null };
  const { fault } = carriage.fold;
  if (fault !== null) return { failed: 'conflict', reason: `what is stored of ${carriage.site}/${carriage.carriage} cannot be computed, so that nothing of it is changed: ${fault}` };
  return { entry, anew: summedAnew(carriage, { entry, assignment }, row, measured, streams) };
}

function summedAnew(carriage: Carriage, { entry, assignment }: { readonly entry: RunEntry; readonly assignment: Assignment | null }, row: RunRow, measured: Measurement, streams: StreamAccess): MeasuredRunState['anew'] {
  const { statements, fold } = streams;
  ensureNamed(assignment, statements, fold);
  const marks = storedMarks(row.marks);
  const stored = statements.temperaturesFor.all(row.id, carriage.id, marks.before ?? Number.MIN_SAFE_INTEGER, marks.start).map(readMeasurement);
  const entered = [...stored.map((own) => (own.id === measured.id ? measured : own)), ...(stored.some(({ id }) => id === measured.id) ? [] : [measured])];
  const under = startUnder(assignment, entry.revision, knownOf(carriage, { id: row.id, begin: marks, assignment }, fold, entered), fold);
  const tail: readonly RowGroup[] = addRowsUnder(under, carriage, row.id, streams);
  return { assignment, given: { under, tail, marks }, entered };
}

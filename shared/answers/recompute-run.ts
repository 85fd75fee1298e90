import type { Kysely } from 'kysely';
import type { Run } from '../api-types/run.js';
import { readStored } from '../records/damage.js';
import { identifiedExcursion, type StoredExcursion } from '../records/excursions.js';
import { findProcedure } from '../records/procedures.js';
import { measurementsFor } from '../records/temperatures.js';
import { readSensors } from '../records/sensors.js';
import { assignmentSum, rowAsWritten } from '../records/row-sum.js';
import type { StoredRun } from '../records/runs.js';
import type { Database } from '../records/tables.js';
import { readRowGroups } from '../traces/row-groups.js';
import type { TraceReader } from '../traces/trace-store.js';
import type { Assignment } from '../weld/procedure/assignment.js';
import { assignmentAfter, entryIndex, turnsMade } from '../weld/run/turn-epochs.js';
import { sameSeamAndRun } from '../weld/run/assignment-timeline.js';
import { sensorsOf } from '../weld/run/sensor-timeline.js';
import { endedRows, outAtEnd } from '../weld/rows/ended-rows.js';
import { judgedZones } from '../weld/run/judged-zones.js';
import { procedureParameters, type ProcedureOutline } from '../weld/procedure/procedure-parameters.js';
import { excursionAnswer, judgedExcursions } from '../weld/run/run-excursions.js';
import { isoTime, judgedFigures, judgedSums, type RunMarks } from '../weld/run/run-figures.js';
import { addRow, startRunSums } from '../weld/run/run-sums.js';
import { countingTemperature, runTemperatures, startTemperature } from '../weld/temperatures/run-temperatures.js';
import { noProcedure, runParameters } from '../weld/procedure/zone.js';
import type { WeldSettings } from '../weld/weld-settings.js';
import { notJudged } from './not-judged.js';
import { preparationState } from './preparation-state.js';
import { runRecord } from './run-record.js';
import type { StoredZone } from './run-shape.js';

/** A run as today's program would have stored it. */
export interface RecomputedRun {
  readonly record: unknown;
  readonly zones: readonly StoredZone[];
  readonly excursions: readonly StoredExcursion[];
}

/** What the marks of earlier versions lack of how a run began. */
const unnoted = { before: null, plate: null } as const;

/** As much of a stored span as is needed. */
interface Span {
  readonly epoch: number;
  readonly revision: number | null;
  readonly revisedAt: number | null;
}

/** Computes a run from its rows, its marks, and the assignment and the procedure by which it was welded. Writes nothing. */
export async function recomputeRun(records: Kysely<Database>, traces: TraceReader, run: StoredRun, { temperatureAge }: Pick<WeldSettings, 'temperatureAge'>): Promise<RecomputedRun> {
  const what = `what is kept of run ${run.id}`;
  const { epoch, revision, revisedAt } = readStored(what, run.span, (span) => span as Span);
  const known = readStored(what, run.marks, (marks) => ({ ...unnoted, ...(marks as RunMarks & { readonly travelJump: boolean }) }));
  const welded = await assignmentAt(records, run.stream_id, epoch);
  const assignment = run.override === null ? welded : (JSON.parse(run.override) as Assignment);
  if ((assignment !== null) !== (run.assigned === 1)) throw new Error(`the assignment of run ${run.id} is not there`);
  const procedure = assignment?.procedure === undefined || revision === null ? undefined : (await findProcedure(records, assignment.procedure, revision))?.body;
  const byProcedure = procedure === undefined ? noProcedure : procedureParameters(JSON.parse(procedure) as ProcedureOutline, assignment);
  const sensors = sensorsOf(await readSensors(records, run.stream_id), known.sensors ?? -1);
  const entered = await measurementsFor(records, { ...run, before: known.before });
  const temperatures = runTemperatures({ begin: known, run: run.id, assignment, entered, platePlace: sensors?.plateTemperaturePlace ?? null, age: temperatureAge });
  const parameters = runParameters(assignment, byProcedure, { sensors, temperature: startTemperature(countingTemperature(temperatures), assignment?.preheat) });
  const finished = run.state === 'finished';
  const litElsewhere = known.litElsewhere && (welded === null || (assignment !== null && sameSeamAndRun(welded, assignment)));
  const marks = { ...known, finished, litElsewhere };
  const added = startRunSums(parameters);
  for (const { rows, at } of endedRows(readRowGroups(traces, run.id), outAtEnd(known, run.ended))) addRow(added, rows, at);
  const sums = judgedSums(marks, added);
  const figures = judgedFigures(marks, sums);
  const excursions = judgedExcursions(marks, sums).map((own) => identifiedExcursion(run.id, excursionAnswer(own, parameters, assignment)));
  const record = runRecord({
    stream: run, entry: { id: run.id, attempt: run.attempt, version: run.version, revisedAt, revision }, assignment, runGroup: parameters.runGroup, figures, finished, travelJump: known.travelJump,
    excursions: excursions.length, notJudged: notJudged(assignment, revision, parameters.windows), origin: await originOf(records, run.stream_id),
    preparation: assignment === null ? null : preparationState(assignment, procedure, figures.arcs.map(({ arc }) => arc)),
    // A record that can name sensors does.
    sensors: null, temperatures, temperatureWindows: byProcedure.temperatureWindows,
  });
  // As it would have been written: without a mark that was not kept, the figure is missing.
  return { record: JSON.parse(JSON.stringify(record)) as unknown, zones: judgedZones(sums).map((own) => ({ ...own, arcs: [...own.arcs] })), excursions };
}

/** The assignment of an epoch of the carriage's timeline; -1 has none. */
async function assignmentAt(records: Kysely<Database>, stream: number, epoch: number): Promise<Assignment | null> {
  if (epoch < 0) return null;
  const row = await records.selectFrom('assignments').selectAll().where('stream_id', '=', stream).orderBy('id').offset(entryIndex(epoch)).limit(1).executeTakeFirst();
  const body = row === undefined ? null : (JSON.parse(rowAsWritten('an assignment', row, assignmentSum).body ?? 'null') as Assignment | null);
  return body === null ? null : assignmentAfter(body, turnsMade(epoch));
}

async function originOf(records: Kysely<Database>, stream: number): Promise<Run['origin']> {
  const { stream: log } = await records.selectFrom('streams').select('stream').where('id', '=', stream).executeTakeFirstOrThrow();
  if (log === '') return { kind: 'live', file: null, at: null, by: null };
  const row = await records.selectFrom('imports').selectAll().where('stream_id', '=', stream).executeTakeFirst();
  return { kind: 'log', file: row?.file ?? null, at: row === undefined ? null : isoTime(row.at), by: row?.by ?? null };
}

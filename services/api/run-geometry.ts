import type { Kysely } from 'kysely';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { procedureBodySchema } from '../../shared/api-types/procedure.js';
import { runSchema } from '../../shared/api-types/run.js';
import { readStored } from '../../shared/records/damage.js';
import { findProcedure } from '../../shared/records/procedures.js';
import type { StoredRun } from '../../shared/records/runs.js';
import type { Database } from '../../shared/records/tables.js';
import { outAtEnd } from '../../shared/weld/rows/ended-rows.js';
import type { RunMarks } from '../../shared/weld/run/run-figures.js';
import { circumferenceOf } from '../../shared/weld/procedure/seam-degrees.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { noProcedure, runParameters } from '../../shared/weld/procedure/zone.js';

const recordSchema = runSchema.pick({ assignment: true, procedure: true, sensors: true, temperatures: true, thermalEfficiency: true, travelled: true });

/** What is needed to place a run's rows on its seam, and to compute heat input from energy: data of the run and of the procedure revision by which it was welded. */
export async function runGeometry(records: Kysely<Database>, runs: AnsweredRuns, run: StoredRun) {
  const { assignment, procedure, sensors, temperatures, thermalEfficiency, travelled } = recordSchema.strip().parse(await runs.record(run));
  const stored = procedure === null ? undefined : await findProcedure(records, procedure.id, procedure.revision);
  const content = stored === undefined ? {} : procedureBodySchema.parse(JSON.parse(stored.body));
  const own = procedureParameters(content, assignment);
  const counts = temperatures?.find(({ used }) => used);
  const temperature = counts === undefined ? null : { value: counts.value, from: counts.kind };
  const parameters = runParameters(assignment, stored === undefined ? noProcedure : own, { sensors, temperature });
  return {
    /** Corrected time of the run's start, µs. */
    start: run.started,
    /** When it ended with its arcs out, µs; null while it is open, and where they burnt on in the next run. */
    outAt: outAtEnd(readStored(`what is kept of run ${run.id}`, run.marks, (own) => own as Partial<RunMarks>), run.ended),
    startOffset: assignment?.startOffset ?? 0, direction: assignment?.direction ?? 1, offsets: own.offsets, thermalEfficiency, zones: await runs.zones(run),
    /** Whether any travel is known; otherwise every place is 0 and meaningless. */
    moving: travelled !== null,
    /** What it is judged by, zones and windows. */
    parameters,
    cooling: parameters.cooling,
    /** Length of a full turn of a circumferential seam, mm; null where it is none. */
    circumference: circumferenceOf(assignment),
  };
}

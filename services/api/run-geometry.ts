import type { Kysely } from 'kysely';
import { z } from 'zod';
import { procedureBodySchema } from '../../shared/api-types/procedure.js';
import { runSchema } from '../../shared/api-types/run.js';
import { readStored } from '../../shared/records/damage.js';
import { readRecord } from '../../shared/records/record-sum.js';
import { findProcedure } from '../../shared/records/procedures.js';
import type { StoredRun } from '../../shared/records/runs.js';
import type { Database } from '../../shared/records/tables.js';
import { procedureParameters } from '../../shared/weld/procedure-parameters.js';
import { noProcedure, runParameters } from '../../shared/weld/zone.js';
import type { RunParameters, Zone } from '../../shared/weld/zone.js';

/** What places a run's rows on its seam, and what makes heat input of its energy. */
export interface RunGeometry {
  /** Corrected time of the run's start, µs. */
  readonly start: number;
  readonly startOffset: number;
  readonly direction: 1 | -1;
  readonly offsets: Readonly<Record<number, number>>;
  readonly thermalEfficiency: number;
  readonly zones: readonly { readonly zone: Zone; readonly from: number; readonly to: number; readonly arcs?: readonly number[] | undefined; readonly unpassed?: true | undefined }[];
  /** Whether any travel is known: else every place is 0 and means nothing. */
  readonly moving: boolean;
  /** What it is judged by, zones and windows. */
  readonly parameters: RunParameters;
}

const marksSchema = z.object({
  zones: z
    .array(
      z.object({
        zone: z.enum(['runOn', 'ignition', 'weld', 'restart', 'crater', 'runOff', 'overlap']),
        from: z.number(),
        to: z.number(),
        arcs: z.array(z.number()).optional(),
        unpassed: z.literal(true).optional(),
      }),
    )
    .default([]),
});
const recordSchema = runSchema.pick({ assignment: true, procedure: true, thermalEfficiency: true, travelled: true });

/** Of a run and of the procedure revision that it was welded by. */
export async function runGeometry(records: Kysely<Database>, run: StoredRun): Promise<RunGeometry> {
  const { assignment, procedure, thermalEfficiency, travelled } = readRecord(run, (record) => recordSchema.strip().parse(record));
  const stored = procedure === null ? undefined : await findProcedure(records, procedure.id, procedure.revision);
  const content = stored === undefined ? {} : procedureBodySchema.parse(JSON.parse(stored.body));
  const own = procedureParameters(content, assignment);
  return {
    start: run.started,
    startOffset: assignment?.startOffset ?? 0,
    direction: assignment?.direction ?? 1,
    offsets: own.offsets,
    thermalEfficiency,
    zones: readStored(`what is kept of run ${run.id}`, run.marks, (marks) => marksSchema.parse(marks)).zones,
    moving: travelled !== null,
    parameters: runParameters(assignment, stored === undefined ? noProcedure : own),
  };
}

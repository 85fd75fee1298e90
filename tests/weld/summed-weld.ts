import type { AssignedArc } from '../../shared/weld/procedure/assignment.js';
import { judgedFigures, judgedSums, type RunFigures, type RunMarks } from '../../shared/weld/run/run-figures.js';
import { addRow, startRunSums } from '../../shared/weld/run/run-sums.js';
import { noProcedure, runParameters, unknownWire, type ArcWire, type ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { groupOf, type RunRowGroup } from '../named-rows.js';

/** The wire of an arc by the procedure. */
export const wire = (own: Partial<ArcWire>): ArcWire => {
  const { diameter, count, recovery, extensionWindow } = { ...unknownWire, ...own };
  return { diameter, count, recovery, extensionWindow };
};

/** No zones but weld, so that every row counts from the first on. */
export const noZones = { ignitionTime: 0, ignitionLength: 0, craterTime: 0 } as const;

/** The figures of a finished run from rows of 100 ms that begin at 0. */
export function figuresOfRows(rows: readonly RunRowGroup[], procedure: Partial<ProcedureParameters> = {}, arcs: readonly AssignedArc[] = []): RunFigures {
  const sums = startRunSums(runParameters({ arcs }, { ...noProcedure, ...noZones, ...procedure }));
  for (const { rows: numbers, at } of rows.map(groupOf)) addRow(sums, numbers, at);
  const marks: RunMarks = { start: 0, lastOn: rows.length * 100_000, restarts: [], gaps: [], stepped: false, byArrival: false, identity: 'full', litElsewhere: false, finished: true, before: null, plate: null, missing: 0 };
  return judgedFigures(marks, judgedSums(marks, sums));
}

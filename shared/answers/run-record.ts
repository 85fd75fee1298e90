import { assignmentAnswer } from '../api-types/assignment.js';
import type { Run } from '../api-types/run.js';
import { toldAbsences, type Absences } from '../weld/run/absence.js';
import type { Assignment } from '../weld/procedure/assignment.js';
import { isoTime, type RunFigures } from '../weld/run/run-figures.js';
import { countingTemperature, type RunTemperature } from '../weld/temperatures/run-temperatures.js';
import { temperatureChecks } from '../weld/temperatures/temperature-checks.js';
import type { TemperatureWindows } from '../weld/procedure/run-windows.js';
import { runTemperaturesAnswer, withTemperatures } from './temperature-answers.js';
import type { PreparationAnswer } from './preparation-state.js';

export interface RunRecordInput {
  readonly stream: { readonly site: string; readonly carriage: string };
  /** `revision` is that of the procedure it was welded by, null where there is none of that name. */
  readonly entry: { readonly id: string; readonly attempt: number; readonly version: number; readonly revisedAt: number | null; readonly revision: number | null };
  readonly assignment: Assignment | null;
  /** The run group by which it was judged, null where none fits. */
  readonly runGroup: string | null;
  readonly figures: RunFigures;
  readonly finished: boolean;
  readonly travelJump: boolean;
  readonly excursions: number;
  readonly notJudged: Run['notJudged'];
  readonly origin: Run['origin'];
  /** Without what is missing of its temperatures. */
  readonly preparation: PreparationAnswer | null;
  readonly sensors: Run['sensors'];
  readonly temperatures: readonly RunTemperature[];
  readonly temperatureWindows: TemperatureWindows;
}

/** The run as it is stored; what other runs say of it is added when it is answered (shared-seam.ts). */
export function runRecord(input: RunRecordInput): Record<string, unknown> {
  const { stream, entry, assignment, figures, finished } = input;
  const reasons: Absences = { ...figures.reasons };
  const flags: string[] = [...figures.flags];
  if (input.travelJump) flags.push('travelJump');
  let procedure: { id: string; revision: number } | null = null;
  if (assignment?.procedure !== undefined) {
    if (entry.revision === null) {
      flags.push('procedureUnknown');
      reasons['procedure'] = { code: 'procedureUnknown', procedure: assignment.procedure };
    } else {
      procedure = { id: assignment.procedure, revision: entry.revision };
    }
  } else {
    reasons['procedure'] = { code: assignment === null ? 'notAssigned' : 'noProcedure' };
  }
  if (input.runGroup === null) reasons['runGroup'] = reasons['procedure'] ?? { code: 'noRunGroup' };
  if (assignment === null) for (const name of ['assignment', 'seam', 'run', 'preparation']) reasons[name] = { code: 'notAssigned' };
  if (input.sensors === null) reasons['sensors'] = { code: 'noSensors' };
  if (!finished) reasons['endedAt'] = { code: 'notFinished' };
  const checks = temperatureChecks(input.temperatureWindows, assignment?.run ?? null, countingTemperature(input.temperatures)?.value ?? null);
  return {
    id: entry.id, site: stream.site, carriage: stream.carriage, seam: assignment?.seam ?? null, run: assignment?.run ?? null,
    attempt: entry.attempt, assigned: assignment !== null, assignment: assignment === null ? null : assignmentAnswer(assignment),
    procedure, runGroup: input.runGroup, preparation: input.preparation === null ? null : withTemperatures(input.preparation, checks),
    temperatures: runTemperaturesAnswer(input.temperatures), temperatureChecks: checks, state: finished ? 'finished' : 'welding',
    version: entry.version, revisedAt: entry.revisedAt === null ? null : isoTime(entry.revisedAt), simulated: assignment?.simulated === true,
    ...figures, sensors: input.sensors,
    excursions: input.excursions, judged: input.notJudged === null, notJudged: input.notJudged, origin: input.origin,
    ...toldAbsences(reasons), flags,
  };
}

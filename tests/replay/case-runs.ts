import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { preparationState } from '../../shared/answers/preparation-state.js';
import { runTemperaturesAnswer, withTemperatures } from '../../shared/answers/temperature-answers.js';
import type { ReceivedItem } from '../../shared/weld/items/item.js';
import type { PreparationGroup } from '../../shared/weld/preparation/preparation.js';
import type { Measurement } from '../../shared/weld/temperatures/measurement.js';
import { countingTemperature, runTemperatures } from '../../shared/weld/temperatures/run-temperatures.js';
import { temperatureChecks } from '../../shared/weld/temperatures/temperature-checks.js';
import { replay, type ReplayedRun } from './replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { placeAt } from '../model/motion.js';
import { plainMissing } from '../model/plain-preparation.js';
import { countingOf, missingTemperatures, plainChecks } from '../model/plain-temperatures.js';
import { plainRuns } from '../model/plain-run.js';
import type { PlainRun } from '../model/plain-types.js';
import { groupFor, plainWindows } from '../model/plain-windows.js';
import type { PlainExcursion } from '../model/window-types.js';
import { plainStream, type PlainStream } from '../model/zoned-rows.js';
import { roundSeam, withTurns } from '../model/turns.js';
import type { RunParts } from '../model/split-runs.js';
import { canonicalOrder, carriageEvents } from './carriage-events.js';
import { asWritten, judgedCase, modelProcedures, programParameters, type AppliedProcedure, type JudgedCase } from './case-procedures.js';
import type { CaseFile } from './case-format.js';
import { enteredTemperatures, runName } from './case-temperatures.js';
import { caseStart } from './expand-case.js';
import { namedGroup } from '../named-rows.js';

/** A run's figures under the names of the API, and its excursions. */
export interface CaseRun {
  readonly figures: object;
  readonly excursions: readonly object[];
}

function replayed(file: CaseFile) {
  const { messages, applied } = judgedCase(file);
  const { sensors = null } = file;
  const events = carriageEvents(messages, caseStart(file));
  const runs = replay(events, { settings: defaultWeldSettings, parametersOf: programParameters(applied), sensors });
  return { applied, events, runs, sensors, entered: enteredTemperatures(messages) };
}

/** The run group of an assignment, with which the preparation is compared. */
function preparationGroup(assignment: Assignment, applied: JudgedCase['applied']): PreparationGroup | undefined {
  const own = applied.get(assignment.procedure ?? '');
  return own === undefined ? undefined : groupFor(own.procedure, assignment.run, own.side);
}

/** What the record says of the temperatures before the run numbered `place`, and what is missing of its preparation. */
function programBefore({ assignment, begin, figures }: ReplayedRun, place: number, entered: readonly Measurement[], sensors: Sensors | null, applied: JudgedCase['applied']): object {
  const measured = runTemperatures({ begin, run: runName(place), assignment, entered, platePlace: sensors?.plateTemperaturePlace ?? null, age: defaultWeldSettings.temperatureAge });
  const checks = temperatureChecks(programParameters(applied)(assignment).temperatureWindows, assignment?.run ?? null, countingTemperature(measured)?.value ?? null);
  const temperatures = { temperatures: runTemperaturesAnswer(measured), temperatureChecks: checks };
  if (assignment === null) return { preparation: null, ...temperatures };
  const own = applied.get(assignment.procedure ?? '');
  const state = preparationState(assignment, own && JSON.stringify(own.procedure), figures.arcs.map(({ arc }) => arc));
  return { preparation: withTemperatures(state, checks), ...temperatures };
}

/** The same according to the plain model, for all runs. */
function plainBefore(runs: readonly PlainRun[], items: readonly ReceivedItem[], entered: readonly Measurement[], sensors: Sensors | null, applied: JudgedCase['applied']): object[] {
  const values = countingOf(runs.map((run, place) => ({ id: runName(place), ...run })), items, entered, sensors);
  return runs.map(({ assignment, arcs }, place) => {
    if (assignment === null) return { preparation: null, temperatureChecks: [] };
    const group = preparationGroup(assignment, applied);
    const checks = plainChecks(group, assignment.run, values[place] ?? null);
    return { preparation: { missing: [...plainMissing(assignment, { ...group, preheat: undefined }, arcs.map(({ arc }) => arc)), ...missingTemperatures(checks)] }, temperatureChecks: checks };
  });
}

/** The runs of a case according to the program's pure replay. */
export function programRuns(file: CaseFile): CaseRun[] {
  const { applied, runs, entered, sensors } = replayed(file);
  return runs.map((run, place) => ({
    figures: { assignment: asWritten(run.assignment, applied), ...programBefore(run, place, entered, sensors, applied), assigned: run.assignment !== null, ...run.figures },
    excursions: run.excursions,
  }));
}

/** An excursion of the model with its places, by the model's motion; times in µs since 1970. */
function placed(own: PlainExcursion, stream: PlainStream, run: RunParts, applied: AppliedProcedure): object {
  const { arc, quantity, limit, worst, from, to } = own;
  const start = Math.min(...run.burns.map((burn) => burn.from));
  const travelled = (time: number): number => placeAt(stream.moves, time - stream.base).position - placeAt(stream.moves, start).position;
  const { startOffset = 0, direction = 1 } = run.assignment ?? {};
  const offset = groupFor(applied.procedure, applied.run, applied.side)?.arcs?.find((entry) => entry.arc === (arc ?? 1))?.offset ?? 0;
  const onSeam = (time: number): number => startOffset + direction * (travelled(time) - offset);
  return {
    arc,
    quantity,
    limit,
    worst,
    fromTime: from,
    toTime: to,
    fromTravelled: travelled(from),
    toTravelled: to === null ? null : travelled(to),
    fromSeamPosition: onSeam(from),
    toSeamPosition: to === null ? null : onSeam(to),
  };
}

/**
 * The runs of a case according to the plain model. It judges rows of 100 ms that come from the program, and the model's figures (computed without
 * rows) check these.
 */
export function modelRuns(file: CaseFile): CaseRun[] {
  const { applied, events, runs: told, entered, sensors } = replayed(file);
  const { items, assignments: sent } = canonicalOrder(events);
  const assignments = withTurns(items, sent, defaultWeldSettings);
  const stream = plainStream(items, assignments, defaultWeldSettings);
  const runs = plainRuns(items, assignments, defaultWeldSettings, modelProcedures(applied), sensors);
  const before = plainBefore(runs, items, entered, sensors, applied);
  return runs.map((figures, i) => {
    const parts = stream.runs[i];
    const rows = told[i];
    const written = { ...figures, ...roundSeam(figures), assignment: asWritten(figures.assignment, applied), ...before[i] };
    const judgedBy = applied.get(figures.assignment?.procedure ?? '');
    if (parts === undefined || rows === undefined || judgedBy === undefined || figures.lengths === null) return { figures: written, excursions: [] };
    const { excursions, lengths } = plainWindows(stream, parts, judgedBy.procedure, rows.rows.map(namedGroup), {
      finished: rows.figures.endedAt !== null,
      weldHeatInput: figures.weldZone.heatInput,
    });
    return { figures: { ...written, lengths }, excursions: excursions.map((own) => placed(own, stream, parts, judgedBy)) };
  });
}

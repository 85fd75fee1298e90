import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { preparationState } from '../../shared/answers/preparation-state.js';
import { withTemperatures } from '../../shared/answers/temperature-answers.js';
import type { PreparationGroup } from '../../shared/weld/preparation/preparation.js';
import { countingTemperature, runTemperatures } from '../../shared/weld/temperatures/run-temperatures.js';
import { temperatureChecks } from '../../shared/weld/temperatures/temperature-checks.js';
import { replay, type ReplayedRun } from './replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { placeAt } from '../model/motion.js';
import { plainMissing, plainPreheat } from '../model/plain-preparation.js';
import { plainRuns } from '../model/plain-run.js';
import { groupFor, plainWindows } from '../model/plain-windows.js';
import type { PlainExcursion } from '../model/window-types.js';
import { plainStream, type PlainStream } from '../model/zoned-rows.js';
import { roundSeam, withTurns } from '../model/turns.js';
import type { RunParts } from '../model/split-runs.js';
import { canonicalOrder, carriageEvents } from './carriage-events.js';
import { asWritten, judgedCase, modelProcedures, programParameters, type AppliedProcedure, type JudgedCase } from './case-procedures.js';
import type { CaseFile } from './case-format.js';
import { caseStart } from './expand-case.js';
import { namedGroup } from '../named-rows.js';

/** A run's figures under the names of the API, and its excursions. */
export interface CaseRun {
  readonly figures: object;
  readonly excursions: readonly object[];
}

function replayed(file: CaseFile) {
  const { messages, applied } = judgedCase(file);
  const events = carriageEvents(messages, caseStart(file));
  const runs = replay(events, { settings: defaultWeldSettings, parametersOf: programParameters(applied) });
  return { applied, events, runs };
}

interface BurntArc {
  readonly arc: number;
}

/** The run group of an assignment, with which the preparation is compared. */
function preparationGroup(assignment: Assignment, applied: JudgedCase['applied']): PreparationGroup | undefined {
  const own = applied.get(assignment.procedure ?? '');
  return own === undefined ? undefined : groupFor(own.procedure, assignment.run, own.side);
}

/** What the record says is missing; in the cases nobody entered a temperature otherwise than with the preparation. */
function programPreparation({ assignment, begin, figures }: ReplayedRun, applied: JudgedCase['applied']): object | null {
  if (assignment === null) return null;
  const own = applied.get(assignment.procedure ?? '');
  const state = preparationState(assignment, own && JSON.stringify(own.procedure), figures.arcs.map(({ arc }) => arc));
  const temperatures = runTemperatures({ begin, run: null, assignment, entered: [], platePlace: null, age: defaultWeldSettings.temperatureAge });
  const { temperatureWindows } = programParameters(applied)(assignment);
  return withTemperatures(state, temperatureChecks(temperatureWindows, assignment.run, countingTemperature(temperatures)?.value ?? null));
}

function plainPreparation(assignment: Assignment | null, arcs: readonly BurntArc[], start: number, applied: JudgedCase['applied']): object | null {
  if (assignment === null) return null;
  const group = preparationGroup(assignment, applied);
  return { missing: [...plainMissing(assignment, { ...group, preheat: undefined }, arcs.map(({ arc }) => arc)), ...plainPreheat(assignment, group, start)] };
}

/** The runs of a case according to the program's pure replay. */
export function programRuns(file: CaseFile): CaseRun[] {
  const { applied, runs } = replayed(file);
  return runs.map((run) => ({
    figures: { assignment: asWritten(run.assignment, applied), preparation: programPreparation(run, applied), assigned: run.assignment !== null, ...run.figures },
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
  const { applied, events, runs: told } = replayed(file);
  const { items, assignments: sent } = canonicalOrder(events);
  const assignments = withTurns(items, sent, defaultWeldSettings);
  const stream = plainStream(items, assignments, defaultWeldSettings);
  return plainRuns(items, assignments, defaultWeldSettings, modelProcedures(applied)).map((figures, i) => {
    const parts = stream.runs[i];
    const rows = told[i];
    const written = { ...figures, ...roundSeam(figures), assignment: asWritten(figures.assignment, applied), preparation: plainPreparation(figures.assignment, figures.arcs, figures.startedAt, applied) };
    const judgedBy = applied.get(figures.assignment?.procedure ?? '');
    if (parts === undefined || rows === undefined || judgedBy === undefined || figures.lengths === null) return { figures: written, excursions: [] };
    const { excursions, lengths } = plainWindows(stream, parts, judgedBy.procedure, rows.rows.map(namedGroup), {
      finished: rows.figures.endedAt !== null,
      weldHeatInput: figures.weldZone.heatInput,
    });
    return { figures: { ...written, lengths }, excursions: excursions.map((own) => placed(own, stream, parts, judgedBy)) };
  });
}

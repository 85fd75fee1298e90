import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { askedPreparation, missingOf, type PreparationGroup } from '../../shared/weld/preparation/preparation.js';
import { replay } from './replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { placeAt } from '../model/motion.js';
import { plainMissing } from '../model/plain-preparation.js';
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

function programPreparation(assignment: Assignment | null, arcs: readonly BurntArc[], applied: JudgedCase['applied']): object | null {
  return assignment === null ? null : { missing: askedPreparation(assignment, preparationGroup(assignment, applied), arcs.map(({ arc }) => arc)).flatMap(missingOf) };
}

function plainPreparation(assignment: Assignment | null, arcs: readonly BurntArc[], applied: JudgedCase['applied']): object | null {
  return assignment === null ? null : { missing: plainMissing(assignment, preparationGroup(assignment, applied), arcs.map(({ arc }) => arc)) };
}

/** The runs of a case according to the program's pure replay. */
export function programRuns(file: CaseFile): CaseRun[] {
  const { applied, runs } = replayed(file);
  return runs.map(({ assignment, figures, excursions }) => ({
    figures: { assignment: asWritten(assignment, applied), preparation: programPreparation(assignment, figures.arcs, applied), assigned: assignment !== null, ...figures },
    excursions,
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
    const written = { ...figures, ...roundSeam(figures), assignment: asWritten(figures.assignment, applied), preparation: plainPreparation(figures.assignment, figures.arcs, applied) };
    const judgedBy = applied.get(figures.assignment?.procedure ?? '');
    if (parts === undefined || rows === undefined || judgedBy === undefined || figures.lengths === null) return { figures: written, excursions: [] };
    const { excursions, lengths } = plainWindows(stream, parts, judgedBy.procedure, rows.rows.map(namedGroup), {
      finished: rows.figures.endedAt !== null,
      weldHeatInput: figures.weldZone.heatInput,
    });
    return { figures: { ...written, lengths }, excursions: excursions.map((own) => placed(own, stream, parts, judgedBy)) };
  });
}

import type { Assignment } from './assignment.js';
import type { Excursion, Moment } from './excursion-track.js';
import { isoTime, judgedFigures, judgedSums, tidy } from './run-figures.js';
import type { RunMarks } from './run-figures.js';
import { foundExcursions } from './run-judge.js';
import type { RunSums } from './run-sums.js';
import { seamPosition } from './seam-position.js';
import { crossedLimit } from './run-windows.js';

/** One excursion as the API answers it, but for its id. `quantity` is named as the window is. */
export interface RunExcursion {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly fromTime: string;
  readonly toTime: string | null;
  readonly fromTravelled: number;
  readonly toTravelled: number | null;
  readonly fromSeamPosition: number;
  readonly toSeamPosition: number | null;
}

/** The excursions of a run in order of where they begin; the mean heat input of the weld zone is judged when it ends. */
export function runExcursions(marks: RunMarks, rows: RunSums, assignment: Pick<Assignment, 'startOffset' | 'direction'> | null): RunExcursion[] {
  return rows.judge === null ? [] : judgedExcursions(marks, judgedSums(marks, rows), assignment);
}

/** The same out of `judgedSums`. */
export function judgedExcursions(marks: RunMarks, sums: RunSums, assignment: Pick<Assignment, 'startOffset' | 'direction'> | null): RunExcursion[] {
  if (sums.judge === null) return [];
  const found = foundExcursions(sums.judge);
  const mean = marks.finished ? meanHeatInputExcursion(marks, sums) : null;
  const place = (moment: Moment, arc: number | null): number =>
    seamPosition(assignment, moment.travelled, sums.parameters.offsets[arc ?? 1]);
  return [...found, ...(mean === null ? [] : [mean])].map((own) => tidy({
    arc: own.arc,
    quantity: own.quantity,
    limit: own.limit,
    worst: own.worst,
    fromTime: isoTime(own.from.time),
    toTime: own.to === null ? null : isoTime(own.to.time),
    fromTravelled: own.from.travelled,
    toTravelled: own.to === null ? null : own.to.travelled,
    fromSeamPosition: place(own.from, own.arc),
    toSeamPosition: own.to === null ? null : place(own.to, own.arc),
  }));
}

function meanHeatInputExcursion(marks: RunMarks, sums: RunSums): Excursion | null {
  const window = sums.parameters.windows?.run.heatInput;
  if (window === undefined) return null;
  const value = judgedFigures(marks, sums).weldZone.heatInput;
  if (value === null) return null;
  const limit = crossedLimit(window, value);
  const first = sums.weldSpan;
  if (limit === null || first === null) return null;
  return { arc: null, quantity: 'meanHeatInput', limit, worst: value, from: first.from, established: null, to: first.to };
}

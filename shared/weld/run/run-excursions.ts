import type { Assignment } from '../procedure/assignment.js';
import type { Excursion, Moment } from '../judging/excursion-track.js';
import { isoTime, judgedFigures, tidy, type RunMarks } from './run-figures.js';
import { foundExcursions } from '../judging/limit-tracks.js';
import type { RunSums } from './run-sums.js';
import { circumferenceOf, degreesAt } from '../procedure/seam-degrees.js';
import { seamPosition } from '../procedure/seam-position.js';
import { crossedLimit } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';

/** One excursion as the API returns it, but without its id. `quantity` has the name of the window. */
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
  /** The same places in degrees of a circumferential seam; null where it is none. */
  readonly fromDegrees: number | null;
  readonly toDegrees: number | null;
  readonly fromSeamDegrees: number | null;
  readonly toSeamDegrees: number | null;
}

/** The excursions of a run from `judgedSums`, in order of where they begin; the mean heat input of the weld zone is judged when it ends. */
export function judgedExcursions(marks: RunMarks, sums: RunSums): Excursion[] {
  if (sums.settled === null) return [];
  const found = foundExcursions(sums.settled);
  const mean = marks.finished ? meanHeatInputExcursion(marks, sums) : null;
  return mean === null ? found : [...found, mean];
}

type Datum = Pick<Assignment, 'startOffset' | 'direction' | 'motion' | 'diameter'>;

/** The answer for an excursion; its places on the seam lie behind those of the carriage by the offset of its arc. */
export function excursionAnswer(own: Excursion, { offsets }: Pick<RunParameters, 'offsets'>, assignment: Datum | null): RunExcursion {
  const place = (moment: Moment): number => seamPosition(assignment, moment.travelled, offsets[own.arc ?? 1]);
  const turn = circumferenceOf(assignment);
  const round = (moment: Moment | null, where: (moment: Moment) => number): number | null => (moment === null ? null : degreesAt(where(moment), turn));
  return tidy({
    arc: own.arc, quantity: own.quantity, limit: own.limit, worst: own.worst,
    fromTime: isoTime(own.from.time), toTime: own.to === null ? null : isoTime(own.to.time),
    fromTravelled: own.from.travelled, toTravelled: own.to === null ? null : own.to.travelled,
    fromSeamPosition: place(own.from), toSeamPosition: own.to === null ? null : place(own.to),
    fromDegrees: round(own.from, ({ travelled }) => travelled), toDegrees: round(own.to, ({ travelled }) => travelled),
    fromSeamDegrees: round(own.from, place), toSeamDegrees: round(own.to, place),
  });
}

function meanHeatInputExcursion(marks: RunMarks, sums: RunSums): Excursion | null {
  const window = sums.parameters.windows?.run.heatInput;
  if (window === undefined) return null;
  const value = judgedFigures(marks, sums).weldZone.heatInput;
  if (value === null) return null;
  const limit = crossedLimit(window, value);
  const first = sums.weldSpan;
  if (limit === null || first === null) return null;
  return { arc: null, quantity: 'meanHeatInput', limit, worst: value, from: first.from, to: first.to };
}

import type { Assignment } from './assignment.js';
import { circumferenceOf, degreesAt } from './seam-degrees.js';
import { seamPosition } from './seam-position.js';

/** A place in all the ways in which it is given: mm travelled, mm from the datum, and the same in degrees of a circumferential seam. */
export interface SeamPlace {
  readonly travelled: number | null;
  readonly seamPosition: number | null;
  readonly degrees: number | null;
  readonly seamDegrees: number | null;
}

/** The place of an arc that runs `offset` mm behind the first; all null where no place is known. */
export function seamPlace(assignment: Pick<Assignment, 'startOffset' | 'direction' | 'motion' | 'diameter'> | null, travelled: number | null, offset = 0): SeamPlace {
  const turn = circumferenceOf(assignment);
  const onSeam = travelled === null ? null : seamPosition(assignment, travelled, offset);
  return { travelled, seamPosition: onSeam, degrees: degreesAt(travelled, turn), seamDegrees: degreesAt(onSeam, turn) };
}

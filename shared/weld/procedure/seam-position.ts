import type { Assignment } from './assignment.js';

/** The distance from the seam's datum, mm, of a place in mm travelled, for an arc that runs `offset` mm behind the first. */
export function seamPosition(assignment: Pick<Assignment, 'startOffset' | 'direction'> | null, travelled: number, offset = 0): number {
  return (assignment?.startOffset ?? 0) + (assignment?.direction ?? 1) * (travelled - offset);
}

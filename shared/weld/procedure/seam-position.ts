import type { Assignment } from './assignment.js';

/** mm from the seam's datum of a place in mm travelled, along which an arc runs `offset` mm behind the first. */
export function seamPosition(assignment: Pick<Assignment, 'startOffset' | 'direction'> | null, travelled: number, offset = 0): number {
  return (assignment?.startOffset ?? 0) + (assignment?.direction ?? 1) * (travelled - offset);
}

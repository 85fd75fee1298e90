import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { PlacedAssignment } from './plain-types.js';

/** A part of the canonical order under one assignment (or none). */
export interface Era {
  /** Index of its first item. */
  readonly from: number;
  readonly key: string | null;
  readonly assignment: Assignment | null;
}

export function assignmentKey(assignment: Assignment | null): string | null {
  return assignment === null ? null : JSON.stringify([assignment.seam, assignment.run]);
}

/** Consecutive assignments to the same seam and run form one era, with the fields sent last; eras without an item are left out. */
export function makeEras(assignments: readonly PlacedAssignment[]): Era[] {
  const placed = assignments.map((entry, order) => ({ ...entry, order }));
  placed.sort((a, b) => a.after - b.after || a.order - b.order);
  const eras: Era[] = [{ from: 0, key: null, assignment: null }];
  for (const { after, assignment } of placed) {
    const from = after + 1;
    const key = assignmentKey(assignment);
    while (eras.length > 0 && (eras.at(-1)?.from ?? -1) >= from && eras.at(-1)?.key !== key) eras.pop();
    const last = eras.at(-1);
    if (last !== undefined && last.key === key) eras[eras.length - 1] = { ...last, assignment };
    else eras.push({ from, key, assignment });
  }
  return eras;
}

export function eraAt(eras: readonly Era[], index: number): number {
  let found = 0;
  eras.forEach((era, i) => {
    if (era.from <= index) found = i;
  });
  return found;
}

import type { AssignedArc, Assignment } from '../procedure/assignment.js';

/**
 * An epoch says which assignment is in force: its whole part is the index of an entry of the timeline, its fraction how many full turns the work has made
 * under that entry, so that epochs are compared as they follow one another. -1: none.
 */
const turnsOfEntry = 2 ** 14;

/** Highest run number (`decode/check-assignment.ts`). */
const lastOfAll = 9_999;

export function epochAfter(index: number, turns: number): number {
  return index + turns / turnsOfEntry;
}

/** The entry of an epoch, by its index. */
export function entryIndex(epoch: number): number {
  return Math.floor(epoch);
}

/** The full turns made under the entry of an epoch. */
export function turnsMade(epoch: number): number {
  return (epoch - Math.floor(epoch)) * turnsOfEntry;
}

/**
 * What an assignment becomes after full turns that each end a run: the same work with the number of the run then welded. What was checked before the arc
 * was struck, what was changed and what was on the spools then belongs to the run for which it was entered.
 */
export function assignmentAfter(body: Assignment, turns: number): Assignment {
  if (turns === 0) return body;
  const after: { -readonly [Field in keyof Assignment]: Assignment[Field] } = { ...body, run: body.run + turns };
  delete after.time;
  delete after.preparation;
  delete after.materials;
  if (body.arcs !== undefined) {
    after.arcs = body.arcs.map((arc) => {
      const own: { -readonly [Field in keyof AssignedArc]: AssignedArc[Field] } = { ...arc };
      delete own.spoolMass;
      return own;
    });
  }
  return after;
}

/** The length of the turn that ends a run of the assignment, mm: π × `diameter`; Infinity where no turn ends it. */
export function turnThatEnds(assignment: Pick<Assignment, 'run' | 'turnIsRun' | 'lastRun' | 'motion' | 'diameter'> | null): number {
  if (assignment?.turnIsRun !== true || assignment.motion !== 'work' || assignment.diameter === undefined) return Infinity;
  return assignment.run >= Math.min(assignment.lastRun ?? lastOfAll, lastOfAll) ? Infinity : Math.PI * assignment.diameter;
}

import { sameAssignment } from '../decode/same-assignment.js';
import type { Assignment } from '../procedure/assignment.js';
import type { Timeline } from './assignment-timeline.js';
import { assignmentAfter, epochAfter, entryIndex, turnsMade, turnThatEnds } from './turn-epochs.js';

/** The assignment of an epoch; null where it has none. */
export function assignmentAt(timeline: Timeline, epoch: number): Assignment | null {
  const body = timeline[entryIndex(epoch)]?.body ?? null;
  return body === null ? null : assignmentAfter(body, turnsMade(epoch));
}

/** The length of the turn that ends the run of an epoch, mm; Infinity where none does. */
export function turnLength(timeline: Timeline, epoch: number): number {
  const body = timeline[entryIndex(epoch)]?.body ?? null;
  return body?.turnIsRun === true ? turnThatEnds(assignmentAfter(body, turnsMade(epoch))) : Infinity;
}

/** The epoch that a full turn begins: the next run number, as it was corrected where it was. */
export function nextTurn(timeline: Timeline, epoch: number): number {
  const index = entryIndex(epoch);
  const turn = turnsMade(epoch) + 1;
  const corrected = timeline.findLastIndex(({ anchor }) => 'turnOf' in anchor && anchor.turnOf === index && anchor.turn === turn);
  return corrected === -1 ? epochAfter(index, turn) : corrected;
}

/** The epoch that stands for another one since a run of its series was corrected; itself where none was. */
export function correctedEpoch(timeline: Timeline, epoch: number): number {
  const turns = turnsMade(epoch);
  if (turns === 0) return epoch;
  const index = entryIndex(epoch);
  for (let at = timeline.length - 1; at > index; at -= 1) {
    const anchor = timeline[at]?.anchor;
    if (anchor !== undefined && 'turnOf' in anchor && anchor.turnOf === index && anchor.turn <= turns) return correctedEpoch(timeline, epochAfter(at, turns - anchor.turn));
  }
  return epoch;
}

/** The entry with which the series of an entry began, by its index: an entry that corrects a run of a series belongs to it. */
export function seriesOf(timeline: Timeline, index: number): number {
  const anchor = timeline[index]?.anchor;
  return anchor !== undefined && 'turnOf' in anchor ? seriesOf(timeline, anchor.turnOf) : index;
}

/** The length of all turns from one epoch to a later one of the same series, mm; 0 for the same epoch, null where no turns lead from one to the other. */
export function turnsBetween(timeline: Timeline, before: number, epoch: number): number | null {
  let length = 0;
  for (let own = before; own !== epoch; own = nextTurn(timeline, own)) {
    if (own > epoch) return null;
    length += turnLength(timeline, own);
    if (length === Infinity) return null;
  }
  return length;
}

/** The epoch in force of a timeline, where the fold or the runs known so far have `reached` these epochs: the last entry, and the turn that its series has come to. */
export function epochInForce(timeline: Timeline, reached: Iterable<number>): number {
  const last = timeline.length - 1;
  const series = seriesOf(timeline, last);
  let newest = -1;
  for (const epoch of reached) {
    if (seriesOf(timeline, entryIndex(epoch)) === series) newest = Math.max(newest, correctedEpoch(timeline, epoch));
  }
  return newest === -1 ? last : newest;
}

/**
 * Which assignments of a series of turns a received one may repeat without beginning anything: none but that in force; those up to it, as a broker gives back what
 * was retained, or a carriage sends its job again while its arc burns; or any, where it is not known how far the series has come.
 */
export type Repeats = 'none' | 'earlier' | 'any';

export function isRepeat(timeline: Timeline, inForce: number, body: Assignment, repeats: Repeats): boolean {
  if (repeats === 'none') return false;
  let own = seriesOf(timeline, entryIndex(inForce));
  for (;;) {
    const known = assignmentAt(timeline, own);
    if (known === null || known.run > body.run || (repeats === 'earlier' && own > inForce)) return false;
    if (known.run === body.run) return sameAssignment(known, body);
    if (turnLength(timeline, own) === Infinity) return false;
    own = nextTurn(timeline, own);
  }
}

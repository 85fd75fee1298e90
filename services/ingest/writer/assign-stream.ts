import { outAtEnd } from '../../../shared/weld/rows/ended-rows.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { receiveAssignment, type Anchor } from '../../../shared/weld/run/assignment-timeline.js';
import { isAfter, type Place } from '../../../shared/weld/items/place.js';
import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import type { Repeats } from '../../../shared/weld/run/turn-series.js';
import { sameAssignment } from '../../../shared/weld/decode/same-assignment.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import type { RunMarks } from '../../../shared/weld/run/run-figures.js';
import { foldFromStart } from '../fold/checkpoints.js';
import { pinRevision, type FoldDeps } from '../fold/fold-deps.js';
import { attemptOf } from '../fold/run-entries.js';
import { storeAssignment } from '../fold/store-assignment.js';
import { saveRecord } from '../records/write-run-records.js';
import type { Carriage } from '../fold/carriage.js';
import { presentUnder } from '../fold/sums-under.js';
import { noteNewsAtOnce } from '../fold/outbox.js';
import type { RunBook, RunEntry, SumsUnder } from '../fold/run-book.js';
import { epochInForceOf } from '../fold/in-force.js';
import { assignmentOf } from '../fold/intake.js';

/**
 * Adds an assignment received for a carriage (null ends the one in force). If the carriage has a fault, it is kept for the next start. `retained`: a broker gave back
 * what it had kept, which may be an earlier one of a series of turns.
 */
export function assignStream(carriage: Carriage, body: Assignment | null, time: number | null, deps: FoldDeps, retained = false): void {
  const { intake, fold, runs, outbox } = carriage;
  if (fold.fault !== null) {
    keepForLater(carriage, body, time, deps);
    return;
  }
  const epoch = epochInForceOf(carriage);
  const before = assignmentOf(intake, epoch);
  const length = intake.timeline.length;
  const effect = receiveAssignment(intake.timeline, body, time, placeOf(intake.newest), finishedTo(runs), { epoch, repeats: repeatsOf(carriage, retained) });
  if (effect === 'same') return;
  // The sender of an assignment wants to see it at once.
  noteNewsAtOnce(outbox);
  if (effect === 'corrected') {
    // A run that a turn began has no entry of its own yet.
    const isOwn = intake.timeline.length === length;
    const corrected = isOwn ? entryIndex(epoch) : length;
    if (isOwn) storeAssignment(carriage, corrected, deps);
    else storeAdded(carriage, deps);
    // Only a change of procedure changes the revision: entries made while a run is being welded leave it unchanged.
    const other = before?.procedure !== intake.timeline[corrected]?.body?.procedure;
    const welded = runs.pinned.get(epoch);
    if (other) runs.pinned.delete(corrected);
    else if (welded !== undefined) runs.pinned.set(corrected, welded);
    const run = [...runs.entries.values()].find((own) => fold.context.sameRun(own.epoch, corrected));
    if (run !== undefined) {
      if (other) run.revision = pinRevision(runs, intake.timeline, corrected, deps);
      foldFromStart(carriage, deps);
    }
    return;
  }
  storeAdded(carriage, deps);
  // An assignment that begins in the past changes what was already folded.
  if (time !== null && intake.newest !== null && time <= (fold.live.head.newest ?? -Infinity)) foldFromStart(carriage, deps);
}

/** While an arc burns, nobody begins a series of turns again: what repeats a part of it was retained by a broker, or sent again by a carriage. */
function repeatsOf({ fold }: Carriage, retained: boolean): Repeats {
  if (fold.dirtyFrom !== null) return 'any';
  return retained || fold.live.head.arcs.some(({ on }) => on) ? 'earlier' : 'none';
}

/** Adds an assignment while nothing is computed: what is stored may be damaged, and none of it is changed. */
function keepForLater(carriage: Carriage, body: Assignment | null, time: number | null, deps: FoldDeps): void {
  const { intake } = carriage;
  const last = assignmentOf(intake, intake.timeline.length - 1);
  if (body === null || last === null ? body === last : sameAssignment(last, body)) return;
  // If the newest item is not known, whatever comes from now on lies after the assignment.
  const anchor: Anchor = time === null && intake.newest !== null ? { after: placeOf(intake.newest) } : { time: time ?? deps.now(), notBefore: null };
  intake.timeline.push({ body, anchor });
  storeAdded(carriage, deps);
}

/** Stores the last entry of the timeline, which was added. */
function storeAdded(carriage: Carriage, deps: FoldDeps): void {
  const { intake } = carriage;
  intake.assignmentPlaces.push(intake.assignments);
  storeAssignment(carriage, intake.timeline.length - 1, deps);
  intake.assignments += 1;
}

function placeOf(place: Place | null): Place | null {
  return place === null ? null : { rank: place.rank, key: place.key };
}

/** The last place that belongs to a finished run. */
function finishedTo({ entries }: RunBook): Place | null {
  let last: Place | null = null;
  for (const run of entries.values()) {
    if (run.finished !== null && run.to !== null && (last === null || isAfter(run.to, last))) last = run.to;
  }
  return last;
}

/** A finished run with the assignment to be given to it: `under` sums its final rows, `tail` are those that may still change. */
export interface GivenAssignment {
  readonly assignment: Assignment;
  /** The current revision of the procedure that the assignment names; null if there is none. */
  readonly revision: number | null;
  readonly under: SumsUnder;
  readonly tail: readonly RowGroup[];
  readonly marks: RunMarks & { readonly travelJump: boolean };
}

/** Gives a finished run another assignment and computes its figures again from its rows. */
export function assignFinishedRun(carriage: Carriage, entry: RunEntry, { assignment, revision, under, tail, marks }: GivenAssignment, deps: FoldDeps): void {
  entry.override = JSON.stringify(assignment);
  entry.version += 1;
  entry.revisedAt = deps.now();
  entry.attempt = attemptOf(carriage, entry, assignment, deps);
  entry.revision = revision;
  entry.under = under;
  const sums = presentUnder(under, tail, Infinity, outAtEnd(marks, marks.lastOn));
  saveRecord(carriage, entry, { assignment, finished: true, sums, marks, travelJump: marks.travelJump }, deps);
}

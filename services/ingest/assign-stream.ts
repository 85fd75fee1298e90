import type { Assignment } from '../../shared/weld/assignment.js';
import { isAfter, receiveAssignment } from '../../shared/weld/assignment-timeline.js';
import type { Anchor, Place, TimelineEntry } from '../../shared/weld/assignment-timeline.js';
import { sameAssignment } from '../../shared/weld/decode/same-assignment.js';
import type { RowGroup } from '../../shared/weld/row-group.js';
import type { RunMarks } from '../../shared/weld/run-figures.js';
import { foldFromStart } from './checkpoints.js';
import type { FoldDeps } from './fold-deps.js';
import { contextOf, pinRevision } from './fold-deps.js';
import { attemptOf } from './run-entries.js';
import { saveRecord } from './flush-stream.js';
import type { RunEntry, StreamState, SumsUnder } from './stream-state.js';
import { presentUnder } from './sums-under.js';
import { noteNewsAtOnce } from './stream-news.js';

/** Takes an assignment (null ends the one in force) that was received for a carriage. One whose figures stand still keeps it for the next start. */
export function assignStream(stream: StreamState, body: Assignment | null, time: number | null, deps: FoldDeps): void {
  if (stream.fault !== null) {
    keepForLater(stream, body, time, deps);
    return;
  }
  const before = stream.timeline.at(-1)?.body ?? null;
  const effect = receiveAssignment(stream.timeline, body, time, placeOf(stream.newest), finishedTo(stream));
  const last = stream.timeline.length - 1;
  const entry = stream.timeline[last];
  if (effect === 'same' || entry === undefined) return;
  // Who assigned wants to see it at once.
  noteNewsAtOnce(stream);
  if (effect === 'corrected') {
    storeEntry(stream, entry, stream.assignmentPlaces[last] ?? stream.assignments, deps);
    // Only another procedure is another revision: what is entered while a run goes on leaves it with its own.
    const other = before?.procedure !== entry.body?.procedure;
    if (other) stream.pinned.delete(last);
    const run = [...stream.runs.values()].find((own) => contextOf(stream, deps).sameRun(own.epoch, last));
    if (run !== undefined) {
      if (other) run.revision = pinRevision(stream, last, deps);
      foldFromStart(stream, deps);
    }
    return;
  }
  addEntry(stream, entry, deps);
  // One that begins in the past changes what was already folded.
  if (time !== null && stream.newest !== null && time <= (stream.live.head.newest ?? -Infinity)) foldFromStart(stream, deps);
}

/** Adds what was assigned while nothing is computed: what is stored may be wrong, and none of it is changed. */
function keepForLater(stream: StreamState, body: Assignment | null, time: number | null, deps: FoldDeps): void {
  const last = stream.timeline.at(-1)?.body ?? null;
  if (body === null || last === null ? body === last : sameAssignment(last, body)) return;
  // Where the newest item is not known, what comes from now on is behind it.
  const anchor: Anchor = time === null && stream.newest !== null ? { after: placeOf(stream.newest) } : { time: time ?? deps.now(), notBefore: null };
  stream.timeline.push({ body, anchor });
  addEntry(stream, { body, anchor }, deps);
}

function addEntry(stream: StreamState, entry: TimelineEntry, deps: FoldDeps): void {
  stream.assignmentPlaces.push(stream.assignments);
  storeEntry(stream, entry, stream.assignments, deps);
  stream.assignments += 1;
}

function storeEntry({ id }: StreamState, { body, anchor }: TimelineEntry, position: number, { changes, now }: FoldDeps): void {
  changes.assignments.push({ stream: id, position, received: now(), anchor: JSON.stringify(anchor), body: body === null ? null : JSON.stringify(body) });
}

function placeOf(place: Place | null): Place | null {
  return place === null ? null : { rank: place.rank, key: place.key };
}

/** The last place that belongs to a finished run. */
function finishedTo(stream: StreamState): Place | null {
  let last: Place | null = null;
  for (const run of stream.runs.values()) {
    if (run.finished !== null && run.to !== null && (last === null || isAfter(run.to, last))) last = run.to;
  }
  return last;
}

/** A finished run with what is to be given to it: `under` is made of its final rows, `tail` of those that may still change. */
export interface GivenAssignment {
  readonly assignment: Assignment;
  /** That of the procedure that the assignment names, by now; null where there is none. */
  readonly revision: number | null;
  readonly under: SumsUnder;
  readonly tail: readonly RowGroup[];
  readonly marks: RunMarks & { readonly travelJump: boolean };
}

/** Gives a finished run another assignment and computes its figures anew from its rows. */
export function assignFinishedRun(stream: StreamState, entry: RunEntry, { assignment, revision, under, tail, marks }: GivenAssignment, deps: FoldDeps): void {
  entry.override = JSON.stringify(assignment);
  entry.version += 1;
  entry.revisedAt = deps.now();
  entry.attempt = attemptOf(stream, entry, assignment, deps);
  entry.revision = revision;
  entry.under = under;
  const sums = presentUnder(under, tail, Infinity, marks.lastOn);
  saveRecord(stream, entry, { assignment, finished: true, sums, marks, travelJump: marks.travelJump }, deps);
}

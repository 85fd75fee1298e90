import type { Assignment } from '../../shared/weld/assignment.js';
import { isAfter, receiveAssignment } from '../../shared/weld/assignment-timeline.js';
import type { Anchor, Place, TimelineEntry } from '../../shared/weld/assignment-timeline.js';
import { sameAssignment } from '../../shared/weld/decode/same-assignment.js';
import type { RunMarks } from '../../shared/weld/run-figures.js';
import { foldFromStart } from './checkpoints.js';
import type { FoldDeps } from './fold-deps.js';
import { contextOf, pinRevision } from './fold-deps.js';
import { attemptOf } from './run-entries.js';
import { saveRecord, sumsUnder } from './flush-stream.js';
import type { RunEntry, StreamState } from './stream-state.js';

/** Takes an assignment (null ends the one in force) that was received for a carriage. One whose figures stand still keeps it for the next start. */
export function assignStream(stream: StreamState, body: Assignment | null, time: number | null, deps: FoldDeps): void {
  if (stream.fault !== null) {
    keepForLater(stream, body, time, deps);
    return;
  }
  const before = stream.timeline.at(-1)?.body ?? null;
  const effect = receiveAssignment(stream.timeline, body, time, placeOf(stream.newest), finishedTo(stream));
  const { statements } = deps;
  const last = stream.timeline.length - 1;
  const entry = stream.timeline[last];
  if (effect === 'same' || entry === undefined) return;
  // Who assigned wants to see it at once.
  stream.unflushed = true;
  stream.flushedAt = 0;
  if (effect === 'corrected') {
    const id = stream.assignmentIds[last];
    if (id !== undefined) statements.correctAssignment.run(JSON.stringify(entry.anchor), JSON.stringify(entry.body), id);
    // Only another procedure is another revision: what is entered while a run goes on leaves it with its own.
    const other = before?.procedure !== entry.body?.procedure;
    if (other) stream.pinned.delete(last);
    const run = [...stream.runs.values()].find((own) => contextOf(stream, deps).sameRun(own.epoch, last));
    if (run !== undefined) {
      if (other) run.revision = pinRevision(stream, last, deps);
      foldFromStart(stream, statements);
    }
    return;
  }
  storeEntry(stream, entry, deps);
  // One that begins in the past changes what was already folded.
  if (time !== null && stream.newest !== null && time <= (stream.live.head.newest ?? -Infinity)) foldFromStart(stream, statements);
}

/** Adds what was assigned while nothing is computed: what is stored may be wrong, and none of it is changed. */
function keepForLater(stream: StreamState, body: Assignment | null, time: number | null, deps: FoldDeps): void {
  const last = stream.timeline.at(-1)?.body ?? null;
  if (body === null || last === null ? body === last : sameAssignment(last, body)) return;
  // Where the newest item is not known, what comes from now on is behind it.
  const anchor: Anchor = time === null && stream.newest !== null ? { after: placeOf(stream.newest) } : { time: time ?? deps.now(), notBefore: null };
  stream.timeline.push({ body, anchor });
  storeEntry(stream, { body, anchor }, deps);
}

function storeEntry(stream: StreamState, { body, anchor }: TimelineEntry, { statements, now }: FoldDeps): void {
  const { lastInsertRowid } = statements.addAssignment.run(stream.id, now(), JSON.stringify(anchor), body === null ? null : JSON.stringify(body));
  stream.assignmentIds.push(Number(lastInsertRowid));
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

/** Gives a finished run another assignment and computes its figures anew from its rows. */
export function assignFinishedRun(stream: StreamState, entry: RunEntry, marks: RunMarks & { readonly travelJump: boolean }, assignment: Assignment, deps: FoldDeps): void {
  entry.override = JSON.stringify(assignment);
  entry.version += 1;
  entry.revisedAt = deps.now();
  entry.attempt = attemptOf(stream, entry, assignment, deps);
  const name = assignment.procedure;
  entry.revision = name === undefined ? null : (deps.statements.procedure.get(name)?.revision ?? null);
  const sums = sumsUnder(assignment, entry, deps);
  saveRecord(stream, entry, { assignment, finished: true, sums, marks, travelJump: marks.travelJump }, deps);
}

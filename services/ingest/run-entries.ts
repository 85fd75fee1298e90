import { randomBytes } from 'node:crypto';
import type { Assignment } from '../../shared/weld/assignment.js';
import { rowLength } from '../../shared/weld/row.js';
import type { FoldDeps } from './fold-deps.js';
import { isLocked, pinRevision } from './fold-deps.js';
import type { RunEntry, StreamState } from './stream-state.js';
import { restartUnder } from './sums-under.js';

/** Index of the first row behind everything that an arc burnt in. */
export function rowsEnd(lastOn: number): number {
  return Math.ceil(lastOn / rowLength);
}

/**
 * The entry of a run of the fold: the one it has, the one that the same run had in an earlier fold (so that its id
 * stays), or a new one.
 */
export function ensureEntry(stream: StreamState, ordinal: number, epoch: number, start: number, deps: FoldDeps): RunEntry {
  const known = stream.runs.get(ordinal);
  if (known !== undefined) return known;
  const again = takeOrphan(stream, epoch, start);
  if (again !== null && !isLocked(again, deps)) {
    deps.traces.remove(again.id);
    stream.tails.delete(again.id);
    stream.cut.delete(again.id);
    again.under = restartUnder(again, deps);
  }
  const entry: RunEntry = again ?? {
    id: randomBytes(9).toString('base64url'),
    ordinal, epoch, start, attempt: 1, version: 1, revisedAt: null, finished: null,
    revision: pinRevision(stream, epoch, deps), override: null, first: null, to: null, revise: false, lastOn: start, saved: null, listed: null, excursions: null, pass: null, under: null,
  };
  entry.ordinal = ordinal;
  entry.epoch = epoch;
  entry.start = start;
  stream.runs.set(ordinal, entry);
  return entry;
}

/** The run of an earlier fold that this one is: under the same assignment, or at the same time. */
function takeOrphan(stream: StreamState, epoch: number, start: number): RunEntry | null {
  const assigned = stream.timeline[epoch]?.body != null;
  let best: RunEntry | null = null;
  let bestDistance = Infinity;
  for (const orphan of stream.orphans) {
    const distance = start >= orphan.start && start <= orphan.lastOn ? 0 : Math.abs(orphan.start - start);
    // One assignment may have had several attempts: of its runs the nearest, before all others.
    const same = assigned && orphan.epoch === epoch;
    const rank = same ? distance - Number.MAX_SAFE_INTEGER : distance;
    if (rank < bestDistance && (same || distance <= 60_000_000)) {
      best = orphan;
      bestDistance = rank;
    }
  }
  if (best !== null) stream.orphans.splice(stream.orphans.indexOf(best), 1);
  return best;
}

/** One more than the runs of this carriage that passed along the same seam under the same number before. */
export function attemptOf(stream: StreamState, entry: RunEntry, assignment: Assignment | null, deps: FoldDeps): number {
  if (assignment === null) return 1;
  return 1 + deps.passes.countBefore(assignment, entry.id, { stream: stream.id, started: entry.start });
}

/** Forgets a run that a later item has shown to be none. */
export function dropEntry(stream: StreamState, entry: RunEntry, deps: FoldDeps): void {
  if (stream.runs.get(entry.ordinal) === entry) stream.runs.delete(entry.ordinal);
  deps.changes.runs.push({ drop: entry.id });
  deps.passes.note(entry.id, { stream: stream.id, started: entry.start }, entry.pass, null);
  deps.traces.remove(entry.id);
  stream.tails.delete(entry.id);
}

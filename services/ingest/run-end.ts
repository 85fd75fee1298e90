import type { FoldDeps } from './fold-deps.js';
import { contextOf } from './fold-deps.js';
import type { StreamState } from './stream-state.js';

/** A run that the fold holds open: where its arc burnt last, and the newest place of the carriage, µs of device time. */
interface OpenRun {
  readonly epoch: number;
  readonly lastOn: number;
  readonly newest: number;
}

/** When a run that the fold still holds open ends, if nothing comes, µs of arrival: by its assignment, or because nothing has come for long. */
function runEndsAt(stream: StreamState, { epoch, lastOn, newest }: OpenRun, deps: FoldDeps): number {
  if (stream.stream !== '') return -Infinity;
  const context = contextOf(stream, deps);
  const { runEndAfter, unassignedRunEndAfter } = deps.settings;
  const seen = stream.lastSeen ?? deps.now();
  let end = seen + (context.assigned(epoch) ? runEndAfter : unassignedRunEndAfter) - (newest - lastOn);
  for (let next = epoch + 1; next < stream.timeline.length; next += 1) {
    const entry = stream.timeline[next];
    if (entry === undefined || context.sameRun(epoch, next)) continue;
    const later = stream.timeline.findLastIndex((_, index) => context.sameRun(epoch, index));
    if (later < next) end = Math.min(end, 'after' in entry.anchor ? -Infinity : seen + (entry.anchor.time - newest));
  }
  return end;
}

export function hasEnded(stream: StreamState, run: OpenRun, deps: FoldDeps): boolean {
  // A clock that was set back has nothing end that had not ended when the newest item came.
  return Math.max(deps.now(), stream.lastSeen ?? deps.now()) >= runEndsAt(stream, run, deps);
}

/** The same of the run that is recorded as being welded; `Infinity` without one. */
export function openRunEndsAt(stream: StreamState, deps: FoldDeps): number {
  const { open } = stream;
  return open !== null && stream.runs.get(open.ordinal)?.finished === null ? runEndsAt(stream, open, deps) : Infinity;
}

import { dropOld } from './fold-stream.js';
import { guardStream } from './guard-stream.js';
import { forgetOver } from './keep-alarms.js';
import type { StreamMemory } from './stream-memory.js';
import { streamChange } from './stream-state.js';
import type { StreamState } from './stream-state.js';

/** As many streams may stay in memory until no run of theirs can change any more; beyond that they leave it sooner. */
const comfortable = 500;
/** How long nothing was heard of a quiet stream before it leaves memory, µs; the first is added to the time in which late items revise a run. */
const leavesAfter = 60_000_000;
const leavesSoon = 5_000_000;
const leavesAtMost = 200;
/** How often old items of a stream are let go of, µs, how many rows at once, and how long all streams together may take, µs. */
const dropEvery = 15_000_000;
const dropAtMost = 2_000;
const dropFor = 10_000;

/** Whether nothing is due for a stream, nor will be by itself before something comes for it. */
export function isQuiet({ fresh, gathered, dueAt, fault, dirtyFrom, finishedRuns, alarmsChanged, stream }: StreamState): boolean {
  if (fresh.length > 0 || gathered.length > 0 || dueAt < Infinity) return false;
  return fault !== null || (dirtyFrom === null && finishedRuns.size === 0 && !(alarmsChanged && stream === ''));
}

/** Lets go of items that no run can be revised from any more, some streams at a time. */
export function dropOldOfSome(streams: StreamMemory): void {
  const now = streams.fold.steady();
  const end = now + dropFor;
  for (const stream of streams.all.values()) {
    if (now - stream.droppedAt < dropEvery) continue;
    if (streams.fold.steady() > end) return;
    stream.droppedAt = now;
    guardStream(stream, streams, () => {
      dropOld(stream, streams.fold, dropAtMost);
      forgetOver(stream, streams.fold);
    });
  }
}

/** Quiet streams leave memory; they are read again when something comes for them. */
export function unloadQuiet(streams: StreamMemory): void {
  const { all, active, fold } = streams;
  const many = all.size > comfortable;
  const before = fold.steady() - (many ? leavesSoon : fold.lateFor + leavesAfter);
  let left = 0;
  for (const stream of all.values()) {
    if (left >= leavesAtMost) return;
    // One whose computation failed would be tried again, and one that is imported is let go by whoever imports it.
    if (active.has(stream) || stream.touchedAt > before || stream.fault !== null || stream.stream !== '') continue;
    fold.changes.streams.push(streamChange(stream, true));
    streams.forget(stream);
    left += 1;
  }
}

/** Before the end: quiet streams need not be read at the next start. */
export function settleQuiet({ all, fold }: StreamMemory): void {
  for (const stream of all.values()) if (stream.stream === '' && stream.fault === null && isQuiet(stream)) fold.changes.streams.push(streamChange(stream, true));
}

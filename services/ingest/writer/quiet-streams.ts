import { dropOld } from '../fold/fold-stream.js';
import { guardStream } from './guard-stream.js';
import { forgetOver } from '../alarms/save-alarm.js';
import type { StreamMemory } from './stream-memory.js';
import { streamChange, type Carriage } from '../fold/carriage.js';

/** Up to this many streams stay in memory until none of their runs can change any more; beyond that they leave it sooner. */
const comfortable = 500;
/** How long a quiet stream must have been silent before it leaves memory, µs; the first is added to the time in which late items revise a run. */
const leavesAfter = 60_000_000;
const leavesSoon = 5_000_000;
const leavesAtMost = 200;
/** How often old items of a stream are dropped, µs; how many rows at once; and how long all streams together may take, µs. */
const dropEvery = 15_000_000;
const dropAtMost = 2_000;
const dropFor = 10_000;

/** Whether nothing is due for a carriage now, or will become due before a message comes for it. */
export function isQuiet({ kind, intake, fold, runs, outbox }: Carriage): boolean {
  if (fold.fresh.length > 0 || intake.gathered.length > 0 || outbox.dueAt < Infinity) return false;
  return fold.fault !== null || (fold.dirtyFrom === null && runs.finished.size === 0 && !(outbox.alarmsChanged && kind === 'live'));
}

/** Drops items from which no run can be revised any more, some streams at a time. */
export function dropOldOfSome(streams: StreamMemory): void {
  const now = streams.fold.steady();
  const end = now + dropFor;
  for (const carriage of streams.all.values()) {
    if (now - carriage.fold.droppedAt < dropEvery) continue;
    if (streams.fold.steady() > end) return;
    carriage.fold.droppedAt = now;
    guardStream(carriage, streams, () => {
      dropOld(carriage, streams.fold, dropAtMost);
      forgetOver(carriage, streams.fold);
    });
  }
}

/** Unloads quiet streams; they are read again when something comes for them. */
export function unloadQuiet(streams: StreamMemory): void {
  const { all, fold } = streams;
  const many = all.size > comfortable;
  const before = fold.steady() - (many ? leavesSoon : fold.lateFor + leavesAfter);
  let left = 0;
  for (const carriage of all.values()) {
    if (left >= leavesAtMost) return;
    // A carriage with a fault would be computed again when it is read, and a log in import is unloaded by its import.
    if (carriage.intake.touchedAt > before || carriage.fold.fault !== null || carriage.kind === 'log' || !isQuiet(carriage)) continue;
    fold.changes.streams.push(streamChange(carriage, true));
    streams.forget(carriage);
    left += 1;
  }
}

/** Marks quiet streams as settled before a stop, so that they need not be read at the next start. */
export function settleQuiet({ all, fold }: StreamMemory): void {
  for (const carriage of all.values()) if (carriage.kind === 'live' && carriage.fold.fault === null && isQuiet(carriage)) fold.changes.streams.push(streamChange(carriage, true));
}

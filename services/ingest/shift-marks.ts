import type { FoldDeps } from './fold-deps.js';
import { isLocked } from './fold-deps.js';
import type { StreamState } from './stream-state.js';
import { noteNews } from './stream-news.js';

/**
 * Moves the times of arrival that a stream goes on from, after the wall clock was set by `step` µs: so many seconds ago stays so many
 * seconds ago. Facts of the past keep the time that they were recorded with.
 */
export function shiftMarks(stream: StreamState, step: number, deps: FoldDeps): void {
  // As it was before the step.
  const before: FoldDeps = { ...deps, now: () => deps.now() - step };
  for (const entry of stream.runs.values()) {
    if (entry.finished === null || isLocked(entry, before)) continue;
    entry.finished += step;
    entry.listed = null;
    deps.changes.runs.push({ finished: entry.finished, id: entry.id });
  }
  stream.checkpoints = stream.checkpoints.map((own) => ({ ...own, created: own.created + step }));
  if (stream.messageAt !== null) stream.messageAt += step;
  for (const alarm of stream.alarms) {
    if (alarm.quantity === 'noData' && alarm.returnedAt === null) stream.silences.set(alarm.id, stream.silences.get(alarm.id) ?? alarm.since);
  }
  for (const [id, since] of stream.silences) stream.silences.set(id, since + step);
  for (const [arc, heard] of stream.heard) stream.heard.set(arc, heard + step);
  if (stream.lastSeen === null) return;
  stream.lastSeen += step;
  noteNews(stream);
  stream.dueAt = 0;
}

import { presentOutlook } from '../../shared/weld/outlook.js';
import { runningFigures } from '../../shared/weld/run-figures.js';
import { columnOf, runColumn } from '../../shared/weld/row.js';
import { carriageAlarms } from './carriage-alarms.js';
import { carriageAnswer } from './carriage-answer.js';
import type { FoldDeps } from './fold-deps.js';
import { liveMeans } from './live-means.js';
import { newestRow } from './newest-rows.js';
import { preparationInForce } from './preparation-answer.js';
import { runMoments } from './run-moments.js';
import { windowsInForce } from './windows-answer.js';
import type { StreamState } from './stream-state.js';
import { noteTold } from './stream-news.js';

/** The id of the run that goes on; null without one. */
export function runBeingWelded(stream: StreamState): string | null {
  const run = stream.live.head.merge.run;
  const entry = run === null ? undefined : stream.runs.get(run.ordinal);
  return entry?.finished === null ? entry.id : null;
}

/**
 * Tells what the carriage does now, between two writings of the records too: nobody waits for these. `anew`: with what is
 * taken over the last seconds as it is now.
 */
export function tellCarriage(stream: StreamState, deps: FoldDeps, anew = false): void {
  noteTold(stream, deps.steady());
  if (stream.stream !== '') return;
  if (stream.retired) {
    stream.snapshot = null;
    return;
  }
  const run = stream.live.head.merge.run;
  const entry = run === null ? undefined : stream.runs.get(run.ordinal);
  const running = run !== null && entry !== undefined && entry.finished === null;
  const burning = new Set<number>();
  for (const { arc, on } of stream.live.head.arcs) if (running && on) burning.add(arc);
  const means = running ? liveMeans(stream, run, anew) : null;
  const newest = running ? newestRow(stream, run.ordinal) : null;
  const snapshot = JSON.stringify(
    carriageAnswer(stream, {
      welding: burning.size > 0,
      runId: running ? entry.id : null,
      assignment: stream.timeline.at(-1)?.body ?? null,
      figures: running ? runningFigures(run) : null,
      burning,
      newest,
      means,
      windows: running ? run.sums.parameters.windows : windowsInForce(stream, deps),
      alarms: carriageAlarms(stream, runBeingWelded(stream), deps),
      preparation: preparationInForce(stream, deps),
      outlook: means === null || run === null ? null : presentOutlook({ ...run, assignment: stream.timeline[run.epoch]?.body ?? null, newest, rates: means.rates }),
      drift: means === null || newest === null || columnOf(newest.rows, newest.at, runColumn.on) === 0 ? [] : means.drifts,
      moments: runMoments(stream, running ? run : null, burning.size > 0),
    }),
  );
  if (snapshot === stream.snapshot) return;
  stream.snapshot = snapshot;
  deps.emit('carriage', snapshot);
}

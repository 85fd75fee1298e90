import type { RunRowGroup } from '../../shared/weld/row.js';
import { runningFigures } from '../../shared/weld/run-figures.js';
import { carriageAnswer } from './carriage-answer.js';
import type { FoldDeps } from './fold-deps.js';
import { liveOutlook } from './live-outlook.js';
import { preparationInForce } from './preparation-answer.js';
import { standingAlarms } from './keep-alarms.js';
import { windowsInForce } from './windows-answer.js';
import type { StreamState } from './stream-state.js';

/** Rows that live figures look back on: the last minute. */
const recentRows = 600;

/** Tells what the carriage does now, between two writings of the records too: nobody waits for these. */
export function tellCarriage(stream: StreamState, deps: FoldDeps): void {
  stream.toldAt = deps.now() / 1e3;
  if (stream.stream !== '') return;
  const run = stream.live.head.merge.run;
  const entry = run === null ? undefined : stream.runs.get(run.ordinal);
  const running = run !== null && entry !== undefined && entry.finished === null;
  const burning = new Set<number>();
  for (const { arc, on } of stream.live.head.arcs) if (running && on) burning.add(arc);
  const rows = running ? newestRows(stream, run.ordinal) : [];
  const snapshot = JSON.stringify(
    carriageAnswer(stream, {
      welding: burning.size > 0,
      runId: running ? entry.id : null,
      assignment: stream.timeline.at(-1)?.body ?? null,
      figures: running ? runningFigures(run) : null,
      burning,
      rows,
      thermalEfficiency: run?.sums.parameters.thermalEfficiency ?? 1,
      windows: running ? run.sums.parameters.windows : windowsInForce(stream, deps),
      alarms: standingAlarms(stream, deps.now()),
      preparation: preparationInForce(stream, deps),
      ...(running ? liveOutlook(stream, run, rows) : { outlook: null, drift: [] }),
    }),
  );
  if (snapshot === stream.snapshot) return;
  stream.snapshot = snapshot;
  deps.emit('carriage', snapshot);
}

/** The last minute's rows of a run, in order. */
function newestRows(stream: StreamState, ordinal: number): RunRowGroup[] {
  const rows: RunRowGroup[] = [];
  for (let at = stream.live.stretches.length - 1; at >= 0; at -= 1) {
    const output = stream.live.stretches[at]?.output ?? [];
    for (let k = output.length - 1; k >= 0; k -= 1) {
      const own = output[k];
      if (own?.type === 'row' && own.ordinal === ordinal) rows.push(own.group);
    }
  }
  for (let at = stream.recent.length - 1; at >= 0 && rows.length < recentRows; at -= 1) {
    const own = stream.recent[at];
    if (own?.ordinal !== ordinal) break;
    rows.push(own.group);
  }
  return rows.reverse();
}

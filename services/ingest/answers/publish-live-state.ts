import type { RunState } from '../../../shared/weld/run/run-state.js';
import { presentOutlook } from '../../../shared/weld/ahead/outlook.js';
import { runningFigures } from '../../../shared/weld/run/run-figures.js';
import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import { carriageAlarms } from '../alarms/carriage-alarms.js';
import { carriageAnswer } from './carriage-answer.js';
import { revisionOf, type FoldDeps } from '../fold/fold-deps.js';
import { liveMeans } from '../fold/live-means.js';
import { newestRow } from '../fold/newest-rows.js';
import { runMoments } from '../fold/run-moments.js';
import type { Carriage } from '../fold/carriage.js';
import { noteChange, noteTold } from '../fold/outbox.js';
import { temperatureState } from './temperature-state.js';
import { entryOf, type RunEntry } from '../fold/run-book.js';
import { epochInForceOf } from '../fold/in-force.js';
import { assignmentOf } from '../fold/intake.js';

/** The run that is being welded, and its entry; null without one. */
export function openRun({ fold, runs }: Carriage): { readonly run: RunState; readonly entry: RunEntry } | null {
  const { run } = fold.live.head.merge;
  const entry = entryOf(runs, run);
  return run !== null && entry?.finished === null ? { run, entry } : null;
}

/** The id of the run that is being welded; null without one. */
export function runBeingWelded(carriage: Carriage): string | null {
  return openRun(carriage)?.entry.id ?? null;
}

/** Whether an arc burns in the run that is being welded. */
export function isWelding(carriage: Carriage): boolean {
  return openRun(carriage) !== null && carriage.fold.live.head.arcs.some(({ on }) => on);
}

/**
 * Publishes what the carriage is doing now, even between two writes of the records: nothing has to wait for these. `anew`: the means over the last
 * seconds are computed again.
 */
export function publishLiveState(carriage: Carriage, deps: FoldDeps, anew = false): void {
  const { kind, intake, fold, runs, outbox } = carriage;
  if (kind === 'log' || intake.retired) {
    noteTold(outbox, null, deps.steady());
    noteChange(outbox, Infinity);
    return;
  }
  const open = openRun(carriage);
  const run = open?.run ?? null;
  const runId = open?.entry.id ?? null;
  const burning = new Set(run === null ? [] : fold.live.head.arcs.flatMap(({ arc, on }) => (on ? [arc] : [])));
  const means = run === null ? null : liveMeans(fold, run, anew);
  const newest = run === null ? null : newestRow(fold, run.ordinal);
  const inForce = epochInForceOf(carriage);
  const assignment = assignmentOf(intake, inForce);
  const revision = revisionOf(runs, intake.timeline, inForce, deps);
  const temperatures = temperatureState(carriage, burning.size > 0 ? run : null, assignment, revision, deps);
  const snapshot = JSON.stringify(
    carriageAnswer(carriage, {
      welding: burning.size > 0,
      runId,
      assignment,
      figures: run === null ? null : runningFigures(run),
      burning,
      newest,
      means,
      windows: run === null ? deps.procedures.parameters(assignment, revision).windows : run.sums.parameters.windows,
      alarms: carriageAlarms(carriage, runId, deps),
      preparation: assignment === null ? null : deps.procedures.preparation(assignment, revision, [...intake.newestOfArc.keys()]),
      temperatures,
      outlook: means === null || run === null ? null : presentOutlook({ ...run, assignment: assignmentOf(intake, run.epoch), newest, rates: means.rates }),
      drift: means === null || newest === null || columnOf(newest.rows, newest.at, runColumn.on) === 0 ? [] : means.drifts,
      moments: runMoments(runs, run, burning.size > 0),
    }),
  );
  noteTold(outbox, snapshot, deps.steady());
  noteChange(outbox, temperatures.changesAt);
  deps.emit('carriage', snapshot);
}

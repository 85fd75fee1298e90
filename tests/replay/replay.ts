import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { correctFrom, receiveAssignment, timelineContext, type Timeline } from '../../shared/weld/run/assignment-timeline.js';
import { entryIndex } from '../../shared/weld/run/turn-epochs.js';
import { assignmentAt } from '../../shared/weld/run/turn-series.js';
import { foldItem, settleFold, startFold, type FoldContext, type FoldState } from '../../shared/weld/run/carriage-fold.js';
import type { ReceivedItem } from '../../shared/weld/items/item.js';
import { collect, type FoldOutput } from '../../shared/weld/run/live-fold.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { densityList } from '../../shared/weld/rows/density.js';
import { bootName, comparePositions, orderItem, type OrderedItem } from '../../shared/weld/items/order.js';
import type { RowGroup } from '../../shared/weld/rows/row-group.js';
import { excursionAnswer, judgedExcursions, type RunExcursion } from '../../shared/weld/run/run-excursions.js';
import { judgedFigures, judgedSums, runMarks, type RunFigures } from '../../shared/weld/run/run-figures.js';
import type { SensorTimeline } from '../../shared/weld/run/sensor-timeline.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure, type ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import type { RunBeginning } from '../../shared/weld/temperatures/plate-samples.js';

/** The messages of a carriage, in order of arrival. Times µs. */
export type CarriageEvent =
  | { readonly type: 'item'; readonly item: ReceivedItem }
  | { readonly type: 'assignment'; readonly assignment: Assignment | null; readonly time: number | null };

export interface ReplayOptions {
  readonly settings: WeldSettings;
  readonly procedures?: ReadonlyMap<string, ProcedureParameters>;
  /** Instead of `procedures`: turns give one assignment several run numbers. */
  readonly parametersOf?: (assignment: Assignment | null) => ProcedureParameters;
  /** Declared before anything came. */
  readonly sensors?: Sensors | null;
}

export interface ReplayedRun {
  readonly assignment: Assignment | null;
  readonly begin: RunBeginning;
  readonly figures: RunFigures;
  readonly excursions: readonly RunExcursion[];
  readonly rows: readonly RowGroup[];
  /** Of each arc, as the API lists it. */
  readonly density: Readonly<Record<number, ReturnType<typeof densityList>>>;
}

/** The runs of one carriage from everything it sent: the plain definition that every faster way must agree with. */
export function replay(events: Iterable<CarriageEvent>, options: ReplayOptions): ReplayedRun[] {
  const { items, timeline } = arrange(events);
  const procedures = options.procedures;
  const context = timelineContext(timeline, options.settings, options.parametersOf ?? ((body) => procedures?.get(body?.procedure ?? '') ?? noProcedure), sensorTimeline(options.sensors));
  let { output, state } = foldAll(items, context);
  // A run lit again under newer fields is judged by them from its beginning on.
  if (correctLitAgain(timeline, output, state.merge.run)) ({ output, state } = foldAll(items, context));
  const runs = new Map<number, RunState>();
  for (const own of output) if (own.type === 'finished') runs.set(own.run.ordinal, own.run);
  const open = state.merge.run;
  if (open !== null) {
    const last = timeline.length - 1;
    const ended = entryIndex(open.epoch) < last;
    runs.set(open.ordinal, ended ? { ...open, finished: true } : open);
  }
  return [...runs.values()].sort((a, b) => a.ordinal - b.ordinal).map((run) => {
    const assignment = assignmentAt(timeline, run.epoch);
    const density = Object.fromEntries(Object.entries(run.density).map(([arc, cells]) => [arc, densityList(cells)]));
    return { assignment, begin: runMarks(run), ...figuresOf(run, assignment), density, rows: output.flatMap((own) => (own.type === 'row' && own.ordinal === run.ordinal ? [own] : [])) };
  });
}

const sensorTimeline = (sensors: Sensors | null = null): SensorTimeline => (sensors === null ? [] : [{ revision: 1, body: sensors, after: null, at: 0, by: '' }]);

function foldAll(items: readonly OrderedItem[], context: FoldContext): { output: FoldOutput[]; state: FoldState } {
  const output: FoldOutput[] = [];
  const sink = collect(output);
  const state = startFold();
  for (const item of items) foldItem(state, item, context, sink);
  settleFold(state, context, sink);
  return { output, state };
}

/** Whether a run was lit again under an entry with other fields than that under which it had begun; its entries have the newest then. */
function correctLitAgain(timeline: Timeline, output: readonly FoldOutput[], open: RunState | null): boolean {
  const begun = new Map<number, number>();
  let corrected = false;
  const reaches = (ordinal: number, epoch: number): void => {
    corrected = correctFrom(timeline, String(ordinal), begun.get(ordinal) ?? epoch, epoch).length > 0 || corrected;
  };
  for (const own of output) {
    if (own.type === 'began' && !begun.has(own.ordinal)) begun.set(own.ordinal, own.epoch);
    if (own.type === 'finished') reaches(own.run.ordinal, own.run.epoch);
  }
  if (open !== null) reaches(open.ordinal, open.epoch);
  return corrected;
}

/** The figures of a run and its excursions, as its record has them. */
export function figuresOf(run: RunState, assignment: Assignment | null): Pick<ReplayedRun, 'figures' | 'excursions'> {
  const marks = runMarks(run);
  const sums = judgedSums(marks, run.sums);
  return { figures: judgedFigures(marks, sums), excursions: judgedExcursions(marks, sums).map((own) => excursionAnswer(own, sums.parameters, assignment)) };
}

/** Leaves out duplicates and puts the items in order; anchors assignments to what had been received before them. */
export function arrange(events: Iterable<CarriageEvent>): { items: OrderedItem[]; timeline: Timeline } {
  const ranks = new Map<string, number>();
  const seen = new Set<string>();
  const items: OrderedItem[] = [];
  const timeline: Timeline = [];
  let newest: OrderedItem | null = null;
  for (const event of events) {
    if (event.type === 'assignment') {
      receiveAssignment(timeline, event.assignment, event.time, newest, null);
      continue;
    }
    const { item } = event;
    const boot = bootName(item);
    let rank = ranks.get(boot);
    if (rank === undefined) {
      rank = ranks.size;
      ranks.set(boot, rank);
    }
    const ordered = orderItem(item, rank, item.arrived, item.arrival);
    if (item.time !== null || boot !== '') {
      const identity = `${rank} ${ordered.key} ${item.arc}`;
      if (seen.has(identity)) continue;
      seen.add(identity);
    }
    items.push(ordered);
    if (newest === null || comparePositions(ordered, newest) > 0) newest = ordered;
  }
  return { items: items.sort(comparePositions), timeline };
}

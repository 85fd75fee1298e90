import { swings } from '../../../shared/weld/rows/alternating.js';
import { assignmentAnswer } from '../../../shared/api-types/assignment.js';
import type { Drift } from '../../../shared/weld/ahead/find-drifts.js';
import type { Outlook } from '../../../shared/weld/ahead/outlook.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { valueAt, type Values } from '../../../shared/weld/items/item.js';
import { voltageAtArc } from '../../../shared/weld/arcs/correct-voltage.js';
import { sensorsOf } from '../../../shared/weld/run/sensor-timeline.js';
import { comparePositions, type OrderedItem } from '../../../shared/weld/items/order.js';
import { spreadNames } from '../../../shared/weld/quantities.js';
import { recordOf } from '../../../shared/weld/rows/record-of.js';
import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import { toldAbsences, type Absence, type Absences } from '../../../shared/weld/run/absence.js';
import { isoTime, type RunningFigures } from '../../../shared/weld/run/run-figures.js';
import { seamPlace } from '../../../shared/weld/procedure/seam-place.js';
import type { LiveMeans, Variations } from '../fold/live-means.js';
import { withTemperatures } from '../../../shared/answers/temperature-answers.js';
import type { PreparationAnswer } from '../../../shared/answers/preparation-state.js';
import type { RunMoments } from '../fold/run-moments.js';
import type { RunWindows } from '../../../shared/weld/procedure/run-windows.js';
import type { Carriage } from '../fold/carriage.js';
import type { Intake } from '../fold/intake.js';
import type { TemperatureState } from './temperature-state.js';
import type { CarriageAlarms } from '../fold/alarm-book.js';

export interface CarriageView {
  readonly welding: boolean;
  readonly runId: string | null;
  readonly assignment: Assignment | null;
  /** The figures of the run so far; null without a run. */
  readonly figures: RunningFigures | null;
  readonly burning: ReadonlySet<number>;
  /** The newest row of the run, and the means over its last seconds; null without a run. */
  readonly newest: RowGroup | null;
  readonly means: LiveMeans | null;
  /** The windows by which the run is judged, or would be judged if one began under the assignment in force. */
  readonly windows: RunWindows | null;
  readonly alarms: CarriageAlarms;
  /** The preparation of the assignment in force, without what is missing of its temperatures; null without an assignment. */
  readonly preparation: PreparationAnswer | null;
  readonly temperatures: TemperatureState;
  /** The outlook of the run that is being welded; null without a run, and `drift` is empty then. */
  readonly outlook: Outlook | null;
  readonly drift: readonly Drift[];
  readonly moments: RunMoments;
}

const noVariations: Variations = { currentVariation: null, voltageVariation: null };

/** One item of `GET /api/carriages`: the newest values, and the figures of the run so far. */
export function carriageAnswer({ site, carriage, intake, fold }: Carriage, view: CarriageView): Record<string, unknown> {
  const { assignment, figures } = view;
  const { reasons, ...ready } = view.temperatures.ready;
  const sensors = sensorsOf(intake.sensors, fold.live.head.sensors);
  const arcs = [...intake.newestOfArc.values()].sort((a, b) => a.arc - b.arc);
  return {
    site,
    carriage,
    online: intake.online,
    welding: view.welding,
    lastSeen: intake.lastSeen === null ? null : isoTime(intake.lastSeen),
    clockOffset: intake.clockOffset,
    assignment: assignment === null ? null : assignmentAnswer(assignment),
    run: view.runId,
    ...view.moments,
    arcs: arcs.map((item) => ({
      arc: item.arc,
      on: view.burning.has(item.arc),
      current: shown(item, item.current),
      voltage: shown(item, voltageAtArc(item, sensors) ?? item.voltage),
      ...recordOf(spreadNames, (name) => (item[name] === null ? null : lastValue(item, item[name]))),
      ...(view.means?.variations.get(item.arc) ?? noVariations),
    })),
    travelSpeed: newestSpeed(intake, view.newest),
    ...seamPlace(assignment, figures?.travelled ?? null),
    arcEnergy: figures?.arcEnergy ?? null,
    heatInput: figures?.heatInput ?? null,
    localHeatInput: view.means?.localHeatInput ?? null,
    t85: figures?.t85 ?? null,
    windows: windowsAnswer(view.windows),
    alarms: view.alarms.items,
    alarmCounts: view.alarms.counts,
    preparation: view.preparation === null ? null : withTemperatures(view.preparation, view.temperatures.checks),
    temperatureChecks: view.temperatures.checks,
    ...ready,
    ...toldAbsences({ ...reasons, ...coolingAbsences(figures) }),
    outlook: view.outlook,
    drift: view.drift,
  };
}

/** Why there is no cooling time: the run has none, or none is being welded. */
function coolingAbsences(figures: RunningFigures | null): Absences {
  const t85: Absence | null = figures === null ? { code: 'arcOff' } : figures.noT85;
  return t85 === null ? {} : { t85 };
}

function lastValue(item: OrderedItem, values: Values): number {
  return valueAt(values, item.count - 1);
}

/** A block of an alternating arc is shown by its RMS, any other item by its newest value. */
function shown(item: OrderedItem, values: Values): number {
  if (typeof values === 'number') return values;
  if (typeof item.current === 'number' || !swings(Math.min(...item.current), Math.max(...item.current))) return lastValue(item, values);
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

function newestSpeed({ newestOfArc }: Intake, row: RowGroup | null): number | null {
  let newest: OrderedItem | null = null;
  for (const item of newestOfArc.values()) {
    if (item.travelSpeed !== null && (newest === null || comparePositions(item, newest) > 0)) newest = item;
  }
  if (newest?.travelSpeed !== null && newest !== null) return lastValue(newest, newest.travelSpeed);
  const speed = row === null ? Number.NaN : columnOf(row.rows, row.at, runColumn.travelSpeed);
  return Number.isNaN(speed) ? null : speed;
}

/** The ranges that the procedure permits, in the form of the API; null without a run group that fits. */
function windowsAnswer(windows: RunWindows | null): Record<string, unknown> | null {
  if (windows === null) return null;
  const arcs = Object.entries(windows.arcs).map(([arc, own]) => ({ arc: Number(arc), ...own }));
  return { arcs, ...windows.run };
}

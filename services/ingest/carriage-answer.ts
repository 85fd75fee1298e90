import { assignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Drift } from '../../shared/weld/drift/find-drifts.js';
import type { Outlook } from '../../shared/weld/outlook.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import { valueAt } from '../../shared/weld/item.js';
import type { Values } from '../../shared/weld/item.js';
import type { OrderedItem } from '../../shared/weld/order.js';
import type { ArcRow, RunRowGroup } from '../../shared/weld/row.js';
import type { RunningFigures } from '../../shared/weld/run-figures.js';
import { isoTime, spread } from '../../shared/weld/run-figures.js';
import { seamPosition } from '../../shared/weld/seam-position.js';
import type { PreparationAnswer } from './preparation-answer.js';
import type { RunWindows } from '../../shared/weld/run-windows.js';
import { windowsAnswer } from './windows-answer.js';
import type { StreamState } from './stream-state.js';

/** Running variation is taken over this many rows (10 s); common practice, no source. */
const variationRows = 100;
/** Length over which the local heat input is taken, mm; common practice, no source. */
const localLength = 50;

export interface CarriageView {
  readonly welding: boolean;
  readonly runId: string | null;
  readonly assignment: Assignment | null;
  /** Of the run so far; null without one. */
  readonly figures: RunningFigures | null;
  readonly burning: ReadonlySet<number>;
  /** Rows of the run up to now, the newest last; at least the last 10 s of them. */
  readonly rows: readonly RunRowGroup[];
  readonly thermalEfficiency: number;
  /** By which the run is judged, or by which one of the assignment in force would be. */
  readonly windows: RunWindows | null;
  readonly alarms: readonly Record<string, unknown>[];
  /** Of the assignment in force; null without one. */
  readonly preparation: PreparationAnswer | null;
  /** Of the run that is being welded; null and none without one. */
  readonly outlook: Outlook | null;
  readonly drift: readonly Drift[];
}

/** One item of `GET /api/carriages`: the newest values, and the figures of the run so far. */
export function carriageAnswer(stream: StreamState, view: CarriageView): Record<string, unknown> {
  const { assignment, figures } = view;
  const arcs = [...stream.newestOfArc.values()].sort((a, b) => a.arc - b.arc);
  const travelled = figures?.travelled ?? null;
  return {
    site: stream.site,
    carriage: stream.carriage,
    online: stream.online,
    welding: view.welding,
    lastSeen: stream.lastSeen === null ? null : isoTime(stream.lastSeen),
    clockOffset: stream.clockOffset,
    assignment: assignment === null ? null : assignmentAnswer(assignment),
    run: view.runId,
    arcs: arcs.map((item) => ({
      arc: item.arc,
      on: view.burning.has(item.arc),
      current: shown(item, item.current),
      voltage: shown(item, item.voltage),
      wireFeedSpeed: item.wireFeedSpeed === null ? null : lastValue(item, item.wireFeedSpeed),
      ...variations(item.arc, view.rows),
    })),
    travelSpeed: newestSpeed(stream, view.rows),
    travelled,
    seamPosition: travelled === null ? null : seamPosition(assignment, travelled),
    arcEnergy: figures?.arcEnergy ?? null,
    heatInput: figures?.heatInput ?? null,
    localHeatInput: localHeatInput(view.rows, view.thermalEfficiency),
    windows: windowsAnswer(view.windows),
    alarms: view.alarms,
    preparation: view.preparation,
    outlook: view.outlook,
    drift: view.drift,
  };
}

function lastValue(item: OrderedItem, values: Values): number {
  return valueAt(values, item.count - 1);
}

/** A block that swings to both sides of zero is shown by its RMS, any other item by its newest value. */
function shown(item: OrderedItem, values: Values): number {
  if (typeof values === 'number') return values;
  const signs = new Set(values.map((value) => Math.sign(value)));
  if (!(signs.has(1) && signs.has(-1))) return lastValue(item, values);
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

function variations(arc: number, rows: readonly RunRowGroup[]): { currentVariation: number | null; voltageVariation: number | null } {
  let time = 0;
  let current = 0;
  let currentSquared = 0;
  let voltage = 0;
  let voltageSquared = 0;
  for (const group of rows.slice(-variationRows)) {
    const row = rowOf(group, arc);
    if (row === undefined || row.on === 0) continue;
    time += row.on;
    const alternating = row.minCurrent < 0 && row.maxCurrent > 0;
    current += alternating ? Math.sqrt(row.currentSquared * row.on) : row.current;
    voltage += alternating ? Math.sqrt(row.voltageSquared * row.on) : row.voltage;
    currentSquared += row.currentSquared;
    voltageSquared += row.voltageSquared;
  }
  if (time === 0) return { currentVariation: null, voltageVariation: null };
  return {
    currentVariation: variation(time, current, currentSquared),
    voltageVariation: variation(time, voltage, voltageSquared),
  };
}

function variation(time: number, sum: number, squared: number): number | null {
  const { mean, standardDeviation } = spread(time, sum, squared, 0, 0);
  return mean === 0 ? null : standardDeviation / Math.abs(mean);
}

function rowOf(group: RunRowGroup, arc: number): ArcRow | undefined {
  return group.arcs.find((own) => own.arc === arc)?.row;
}

function newestSpeed(stream: StreamState, rows: readonly RunRowGroup[]): number | null {
  let newest: OrderedItem | null = null;
  for (const item of stream.newestOfArc.values()) {
    if (item.travelSpeed !== null && (newest === null || item.key > newest.key || item.rank > newest.rank)) newest = item;
  }
  if (newest?.travelSpeed !== null && newest !== null) return lastValue(newest, newest.travelSpeed);
  const speed = rows.at(-1)?.run.travelSpeed;
  return speed === undefined || Number.isNaN(speed) ? null : speed;
}

/** Energy over length of the newest 50 mm of each arc, added over the arcs, kJ/mm; null while the run is shorter. */
function localHeatInput(rows: readonly RunRowGroup[], thermalEfficiency: number): number | null {
  const arcs = new Set(rows.slice(-variationRows).flatMap((group) => group.arcs.filter(({ row }) => row.on > 0).map(({ arc }) => arc)));
  let sum = 0;
  for (const arc of arcs) {
    let energy = 0;
    let length = 0;
    for (let at = rows.length - 1; at >= 0 && length < localLength; at -= 1) {
      const group = rows[at];
      const row = group === undefined ? undefined : rowOf(group, arc);
      if (row === undefined || row.on === 0) continue;
      const rest = localLength - length;
      const share = row.length > rest ? rest / row.length : 1;
      energy += row.energy * share;
      length += row.length * share;
    }
    if (length < localLength * 0.999) return null;
    sum += energy / length;
  }
  return arcs.size === 0 ? null : (sum / 1e3) * thermalEfficiency;
}

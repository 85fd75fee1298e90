import { heatInput } from '../heat-input.js';
import { arcRow, judgedIntegral } from '../judged-values.js';
import type { DriftingName } from '../quantities.js';
import { driftingArcNames } from '../quantities.js';
import { recordOf } from '../record-of.js';
import type { RunRowGroup } from '../row.js';
import { rowLength } from '../row.js';
import { columnsOf } from '../spread-sum.js';
import type { RunParameters } from '../zone.js';

/** A value times its weight, and the weight, over the rows of one second; `rows` counts those that had it. */
interface Sum {
  value: number;
  weight: number;
  rows: number;
}

/** One second of rows, summed for everything that is followed of an arc or of the run. */
export interface SecondSums {
  readonly second: number;
  readonly first: RunRowGroup;
  readonly last: RunRowGroup;
  /** Index of the first row that counted. */
  readonly from: number;
  readonly sums: Readonly<Partial<Record<DriftingName, Sum>>>;
}

/**
 * Seconds that were summed before, of each arc and (0) of the run. A row never changes, one that a late item makes anew is another:
 * with the same first and last row a second is the same.
 */
export interface SecondMemory {
  parameters: RunParameters | null;
  readonly of: Map<number, Map<number, SecondSums>>;
}

export const ofRun = 0;
const rowsPerSecond = 1e6 / rowLength;
/** A minute and the two seconds that it begins and ends in, twice: forgetting is not done with every second. */
const mostSeconds = 124;

export function startSecondMemory(): SecondMemory {
  return { parameters: null, of: new Map() };
}

/** The seconds of rows in order, each summed from index `since` on: of arc `of`, or of the run. */
export function* secondSums(rows: readonly RunRowGroup[], of: number, since: number, parameters: RunParameters, memory: SecondMemory): Generator<SecondSums> {
  if (memory.parameters !== parameters) memory.of.clear();
  memory.parameters = parameters;
  let known = memory.of.get(of);
  if (known === undefined) memory.of.set(of, (known = new Map<number, SecondSums>()));
  let at = 0;
  for (let first = rows[at]; first !== undefined; first = rows[at]) {
    const second = Math.floor(first.run.index / rowsPerSecond);
    const begun = at;
    at = endOfSecond(rows, at, (second + 1) * rowsPerSecond);
    const last = rows[at - 1] ?? first;
    if (last.run.index < since) continue;
    const from = Math.max(since, first.run.index);
    let own = known.get(second);
    if (own?.first !== first || own.last !== last || own.from !== from) {
      own = { second, first, last, from, sums: (of === ofRun ? runSums : arcSums)(rows, begun, at, of, from, parameters) };
      known.set(second, own);
    }
    yield own;
  }
  if (known.size > mostSeconds) forgetBefore(known, Math.floor((rows[0]?.run.index ?? 0) / rowsPerSecond));
}

/** Position behind the last row before index `end`. Indexes only rise: where the row is where it would be without a hole, there is none. */
function endOfSecond(rows: readonly RunRowGroup[], from: number, end: number): number {
  const whole = from + end - (rows[from]?.run.index ?? end);
  if (rows[whole - 1]?.run.index === end - 1) return whole;
  let at = from;
  while ((rows[at]?.run.index ?? Infinity) < end) at += 1;
  return at;
}

function forgetBefore(known: Map<number, SecondSums>, oldest: number): void {
  for (const second of known.keys()) if (second < oldest) known.delete(second);
}

function startSum(): Sum {
  return { value: 0, weight: 0, rows: 0 };
}

function add(sum: Sum, value: number, weight: number): void {
  sum.value += value;
  sum.weight += weight;
  sum.rows += 1;
}

/** As an arc is judged: current and voltage of an alternating one by the RMS. */
function arcSums(rows: readonly RunRowGroup[], begun: number, end: number, arc: number, from: number, parameters: RunParameters): SecondSums['sums'] {
  const sums = recordOf(driftingArcNames, startSum);
  const offset = parameters.offsets[arc] ?? 0;
  for (let at = begun; at < end; at += 1) {
    const group = rows[at];
    if (group === undefined || group.run.index < from || !isBetweenTabs(group.run.travelled - offset, parameters)) continue;
    const row = arcRow(group, arc);
    if (row === undefined || row.on === 0) continue;
    for (const name of driftingArcNames) {
      if (name === 'current' || name === 'voltage') {
        add(sums[name], Math.abs(judgedIntegral(row, name)), row.on);
        continue;
      }
      const { mean, time } = columnsOf[name];
      if (row[time] > 0) add(sums[name], row[mean] * row[time], row[time]);
    }
  }
  return sums;
}

/** Travel speed, and heat input: what all arcs put in over what the carriage came on, kJ/mm. */
function runSums(rows: readonly RunRowGroup[], begun: number, end: number, _: number, from: number, parameters: RunParameters): SecondSums['sums'] {
  const sums = { travelSpeed: startSum(), heatInput: startSum() };
  for (let at = begun; at < end; at += 1) {
    const group = rows[at];
    if (group === undefined) break;
    const { run, arcs } = group;
    if (run.index < from || run.on === 0 || !isBetweenTabs(run.travelled, parameters)) continue;
    if (run.speedTime > 0) add(sums.travelSpeed, run.speed, run.speedTime);
    if (run.gap !== 0) continue;
    let energy = 0;
    for (const { row } of arcs) if (row.on > 0) energy += row.energy;
    // What it puts in for each mm, times the mm that it counts for: here no length divides it yet.
    add(sums.heatInput, heatInput([{ energy, length: 1 }], parameters.thermalEfficiency), run.length);
  }
  return sums;
}

function isBetweenTabs(place: number, { weldFrom, weldTo, turn }: RunParameters): boolean {
  return place >= weldFrom && place <= weldTo && place <= turn;
}

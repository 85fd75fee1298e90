import { heatInput } from '../rows/heat-input.js';
import { judgedIntegral } from '../judging/judged-integral.js';
import { driftingArcNames, type DriftingName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { arcColumn, columnOf, rowLength, runColumn } from '../rows/row.js';
import { arcRow, arcsEnd, arcStride, firstArc, type RowGroup } from '../rows/row-group.js';
import { spreadColumn } from '../rows/spread-sum.js';
import type { RunParameters } from '../procedure/zone.js';

/** A value times its weight, and the weight, summed over the rows of one second; `rows` counts the rows that had the value. */
interface Sum {
  value: number;
  weight: number;
  rows: number;
}

/** One second of rows, summed for every quantity that is tracked for an arc or the run. */
export interface SecondSums {
  readonly second: number;
  readonly first: RowGroup;
  readonly last: RowGroup;
  /** Index of the first row that counted. */
  readonly from: number;
  readonly sums: Readonly<Partial<Record<DriftingName, Sum>>>;
}

/**
 * Seconds that were summed before, by arc, with 0 for the run. A row never changes; a late item makes a new row. So equal first and last rows mean
 * that the second is the same.
 */
export interface SecondMemory {
  parameters: RunParameters | null;
  readonly of: Map<number, Map<number, SecondSums>>;
}

export const ofRun = 0;
const rowsPerSecond = 1e6 / rowLength;
/** A minute and the two partial seconds at its ends, twice, so that old seconds are not removed with every new one. */
const mostSeconds = 124;

export function startSecondMemory(): SecondMemory {
  return { parameters: null, of: new Map() };
}

/** The seconds of the rows, which are in order, each summed from index `since` on: of arc `of`, or of the run. */
export function* secondSums(groups: readonly RowGroup[], of: number, since: number, parameters: RunParameters, memory: SecondMemory): Generator<SecondSums> {
  if (memory.parameters !== parameters) memory.of.clear();
  memory.parameters = parameters;
  let known = memory.of.get(of);
  if (known === undefined) memory.of.set(of, (known = new Map<number, SecondSums>()));
  let next = 0;
  for (let first = groups[next]; first !== undefined; first = groups[next]) {
    const second = Math.floor(indexOf(first) / rowsPerSecond);
    const begun = next;
    next = endOfSecond(groups, next, (second + 1) * rowsPerSecond);
    const last = groups[next - 1] ?? first;
    if (indexOf(last) < since) continue;
    const from = Math.max(since, indexOf(first));
    let own = known.get(second);
    if (own?.first !== first || own.last !== last || own.from !== from) {
      const counted = groups.slice(begun, next).filter((group) => indexOf(group) >= from);
      own = { second, first, last, from, sums: of === ofRun ? runSums(counted, parameters) : arcSums(counted, of, parameters) };
      known.set(second, own);
    }
    yield own;
  }
  if (known.size <= mostSeconds) return;
  const oldest = Math.floor(indexOf(groups[0]) / rowsPerSecond);
  for (const second of known.keys()) if (second < oldest) known.delete(second);
}

/** The index of a group's row; 0 if there is no group. */
function indexOf(group: RowGroup | undefined): number {
  return group === undefined ? 0 : columnOf(group.rows, group.at, runColumn.index);
}

/** Position after the last row before index `end`. Indexes only increase: a row that lies where it would without a hole proves there is none. */
function endOfSecond(groups: readonly RowGroup[], from: number, end: number): number {
  const whole = from + end - indexOf(groups[from]);
  if (whole <= groups.length && indexOf(groups[whole - 1]) === end - 1) return whole;
  let next = from;
  while (next < groups.length && indexOf(groups[next]) < end) next += 1;
  return next;
}

function startSum(): Sum {
  return { value: 0, weight: 0, rows: 0 };
}

function add(sum: Sum, value: number, weight: number): void {
  sum.value += value;
  sum.weight += weight;
  sum.rows += 1;
}

/** Sums as an arc is judged: by RMS for current and voltage of an alternating arc. */
function arcSums(groups: readonly RowGroup[], arc: number, parameters: RunParameters): SecondSums['sums'] {
  const sums = recordOf(driftingArcNames, startSum);
  const offset = parameters.offsets[arc] ?? 0;
  for (const { rows, at } of groups) {
    if (!isBetweenTabs(columnOf(rows, at, runColumn.travelled) - offset, parameters)) continue;
    const own = arcRow(rows, at, arc);
    const on = own === null ? 0 : columnOf(rows, own, arcColumn.on);
    if (own === null || on === 0) continue;
    for (const name of driftingArcNames) {
      if (name === 'current' || name === 'voltage') {
        add(sums[name], Math.abs(judgedIntegral(rows, own, name)), on);
        continue;
      }
      const { mean, time } = spreadColumn[name];
      const sent = columnOf(rows, own, time);
      if (sent > 0) add(sums[name], columnOf(rows, own, mean) * sent, sent);
    }
  }
  return sums;
}

/** Travel speed, and heat input, kJ/mm: the energy of all arcs over the distance that the carriage advanced. */
function runSums(groups: readonly RowGroup[], parameters: RunParameters): SecondSums['sums'] {
  const sums = { travelSpeed: startSum(), heatInput: startSum() };
  for (const { rows, at } of groups) {
    if (columnOf(rows, at, runColumn.on) === 0 || !isBetweenTabs(columnOf(rows, at, runColumn.travelled), parameters)) continue;
    const speedTime = columnOf(rows, at, runColumn.speedTime);
    if (speedTime > 0) add(sums.travelSpeed, columnOf(rows, at, runColumn.speed), speedTime);
    if (columnOf(rows, at, runColumn.gap) !== 0) continue;
    let energy = 0;
    const end = arcsEnd(rows, at);
    for (let own = firstArc(at); own < end; own += arcStride) if (columnOf(rows, own, arcColumn.on) > 0) energy += columnOf(rows, own, arcColumn.energy);
    // The energy for each mm, times the mm that it counts for: it is not divided by a length here.
    add(sums.heatInput, heatInput([{ energy, length: 1 }], parameters.thermalEfficiency), columnOf(rows, at, runColumn.length));
  }
  return sums;
}

function isBetweenTabs(place: number, { weldFrom, weldTo, turn }: RunParameters): boolean {
  return place >= weldFrom && place <= weldTo && place <= turn;
}

import { arcColumn, arcRowFlags, columnOf, rowLength, runColumn } from './row.js';
import { arcNumber, arcsEnd, arcStride, beginArcRow, beginGroup, firstArc, startRoom, type RowGroup } from './row-group.js';
import { clearRawVoltage } from './raw-voltage.js';
import { finishSpreads } from './spread-sum.js';
import { burntTo, wentOut } from './zone-spans.js';

/**
 * The stored rows of a run, followed, if a row ended exactly where the run did (`ended`, µs of corrected time; null while it continues, and where its arcs did not go out), by the row
 * that was cut off there: a row in which nothing burnt, which shows that the arcs went out.
 */
export function* endedRows(groups: Iterable<RowGroup>, ended: number | null): Generator<RowGroup> {
  let last: RowGroup | null = null;
  for (const group of groups) {
    last = group;
    yield group;
  }
  const cutOff = last === null ? null : cutOffRow(last, ended);
  if (cutOff !== null) yield cutOff;
}

/** When a run ended with its arcs out, µs; null where they burnt on in the next run. `ended` is its end, null while it is open. */
export function outAtEnd({ cutOff }: { readonly cutOff?: boolean | undefined }, ended: number | null): number | null {
  return cutOff === true ? null : ended;
}

/** The row that was cut off after the last row of a run, if there was one. */
export function cutOffRow({ rows, at }: RowGroup, ended: number | null): RowGroup | null {
  if (ended !== (columnOf(rows, at, runColumn.index) + 1) * rowLength) return null;
  const out: number[] = [];
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (columnOf(rows, own, arcColumn.on) > 0 && !wentOut(rows, own) && burntTo(rows, own) === rowLength) out.push(own);
  }
  return out.length === 0 ? null : darkRow(rows, at, out);
}

/** Makes a row in which nothing burnt: columns that are not named here are 0. */
function darkRow(rows: Float64Array, at: number, out: readonly number[]): RowGroup {
  const room = startRoom();
  const dark = beginGroup(room, out.length);
  const made = room.rows;
  const index = columnOf(rows, at, runColumn.index) + 1;
  made[dark + runColumn.index] = index;
  made[dark + runColumn.travelled] = columnOf(rows, at, runColumn.travelled) + columnOf(rows, at, runColumn.advance);
  made[dark + runColumn.minSpeed] = Infinity;
  made[dark + runColumn.maxSpeed] = -Infinity;
  made[dark + runColumn.travelSpeed] = Number.NaN;
  for (const [k, before] of out.entries()) {
    const own = beginArcRow(made, dark, k, arcNumber(rows, before));
    made[own + arcColumn.index] = index;
    made[own + arcColumn.travelled] = columnOf(rows, before, arcColumn.travelled);
    for (const unknown of [arcColumn.minCurrent, arcColumn.maxCurrent, arcColumn.minVoltage, arcColumn.maxVoltage]) made[own + unknown] = Number.NaN;
    for (const unknown of [arcColumn.plateTemperature, arcColumn.extinctions, arcColumn.shortCircuits]) made[own + unknown] = Number.NaN;
    clearRawVoltage(made, own);
    finishSpreads(made, own);
    made[own + arcColumn.flags] = arcRowFlags.out;
  }
  return { rows: made, at: dark };
}

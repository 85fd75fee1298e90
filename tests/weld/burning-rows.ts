import { arcRowFlags } from '../../shared/weld/rows/row.js';
import { uncorrected, unsentColumns } from '../unsent.js';
import type { RowGroup } from '../../shared/weld/rows/row-group.js';
import { groupOf } from '../named-rows.js';
import type { ArcRow, RunRow, RunRowGroup } from '../named-rows.js';

/** Values of one arc that apply to a whole row; `wireFeedSpeed` m/min, absent if it is not sent. */
export interface BurningArc {
  readonly arc?: number;
  readonly current: number;
  readonly voltage: number;
  readonly wireFeedSpeed?: number;
}

/** A row as numbers, and by the names of its columns. */
export type BurningRow = RowGroup & RunRowGroup;

/** A row of 100 ms in which every arc burns throughout; `travelSpeed` mm/min. */
export function burningRow(index: number, travelled: number, travelSpeed: number, arcs: readonly BurningArc[], lit = false): BurningRow {
  const length = Math.abs(travelSpeed) / 600;
  const run: RunRow = {
    index, from: 0, on: 0.1, gap: 0, length, gapLength: 0, travelled, advance: travelSpeed / 600, speedTime: 0.1, speed: travelSpeed * 0.1,
    speedSquared: travelSpeed * travelSpeed * 0.1, minSpeed: travelSpeed, maxSpeed: travelSpeed, travelSpeed, flags: 0,
  };
  const named = { run, arcs: arcs.map((own, n) => ({ arc: own.arc ?? n + 1, row: arcRow(index, length, travelled, own, lit) })) };
  return { ...named, ...groupOf(named) };
}

function arcRow(index: number, length: number, travelled: number, { current, voltage, wireFeedSpeed = Number.NaN }: BurningArc, lit: boolean): ArcRow {
  const feedTime = Number.isNaN(wireFeedSpeed) ? 0 : 0.1;
  return {
    index, from: 0, covered: 0.1, on: 0.1, gap: 0, samples: 1, current: current * 0.1, voltage: voltage * 0.1, energy: Math.abs(current * voltage) * 0.1,
    currentSquared: current * current * 0.1, voltageSquared: voltage * voltage * 0.1, minCurrent: current, maxCurrent: current, minVoltage: voltage, maxVoltage: voltage,
    length, travelled, ...unsentColumns, ...uncorrected, positiveTime: current > 0 ? 0.1 : 0, wireFeedSpeed, feedTime, feedSquared: feedTime === 0 ? 0 : wireFeedSpeed * wireFeedSpeed * 0.1, minFeed: wireFeedSpeed, maxFeed: wireFeedSpeed,
    plateTemperature: Number.NaN, extinctions: Number.NaN, shortCircuits: Number.NaN, flags: arcRowFlags.burning | arcRowFlags.slow | (lit ? arcRowFlags.lit : 0),
  };
}

/** Rows one after the other from index 0, the arcs lit in the first; `at` gives the values at the middle of a row, in s. */
export function burningRows(seconds: number, at: (time: number) => { readonly travelSpeed: number; readonly arcs: readonly BurningArc[] }): BurningRow[] {
  const rows: BurningRow[] = [];
  let travelled = 0;
  for (let index = 0; index < seconds * 10; index += 1) {
    const { travelSpeed, arcs } = at((index + 0.5) / 10);
    rows.push(burningRow(index, travelled, travelSpeed, arcs, index === 0));
    travelled += travelSpeed / 600;
  }
  return rows;
}

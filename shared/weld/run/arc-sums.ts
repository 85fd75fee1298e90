import { alternatesIn } from '../rows/alternating.js';
import { widen, type ElectricSums } from '../rows/electric-sums.js';
import { arcColumn, arcRowFlags, columnOf, hasFlag } from '../rows/row.js';
import { addRawColumns, noRawVoltage, type RawVoltage } from '../rows/raw-voltage.js';
import { standardDeviation } from '../rows/standard-deviation.js';
import { addColumns, cloneSpreads, noSpreads, type SpreadSum } from '../rows/spread-sum.js';

/** The sums of one arc's rows in a run, while the arc was on. Integrals as in `arcColumns`. */
export interface ArcSums extends ElectricSums {
  on: number;
  length: number;
  samples: number;
  /** Time and row RMS values of the rows in which the current alternates: for AC these are the judged values. */
  alternating: number;
  rms: { current: number; currentMin: number; currentMax: number; voltage: number; voltageMin: number; voltageMax: number };
  /** ∫ of the squared difference between the current and the mean of its row, A²·s. */
  ripple: number;
  raw: RawVoltage;
  /** The sums are in the order of `spreadNames`. */
  spreads: SpreadSum[];
  /** NaN where part of the data cannot show them. */
  extinctions: number;
  shortCircuits: number;
  /** Whether some sample was a reading or came from a block slower than 1 ms, and whether some sample came from a block. */
  slow: boolean;
  block: boolean;
}

/** Written out, as a part of a block is (`startPart`). */
export function startArcSums(): ArcSums {
  return {
    on: 0, length: 0, samples: 0,
    current: 0, voltage: 0, energy: 0, currentSquared: 0, voltageSquared: 0,
    minCurrent: Infinity, maxCurrent: -Infinity, minVoltage: Infinity, maxVoltage: -Infinity, positiveTime: 0,
    alternating: 0,
    rms: { current: 0, currentMin: Infinity, currentMax: -Infinity, voltage: 0, voltageMin: Infinity, voltageMax: -Infinity },
    ripple: 0, raw: noRawVoltage(), spreads: noSpreads(), extinctions: 0, shortCircuits: 0, slow: false, block: false,
  };
}

export function cloneArcSums(sums: ArcSums): ArcSums {
  return { ...sums, rms: { ...sums.rms }, raw: { ...sums.raw }, spreads: cloneSpreads(sums.spreads) };
}

/** Adds a row in which the arc was on. */
export function addArcRow(sums: ArcSums, rows: Float64Array, own: number): void {
  sums.on += columnOf(rows, own, arcColumn.on);
  sums.length += columnOf(rows, own, arcColumn.length);
  sums.samples += columnOf(rows, own, arcColumn.samples);
  sums.current += columnOf(rows, own, arcColumn.current);
  sums.voltage += columnOf(rows, own, arcColumn.voltage);
  sums.energy += columnOf(rows, own, arcColumn.energy);
  sums.currentSquared += columnOf(rows, own, arcColumn.currentSquared);
  sums.voltageSquared += columnOf(rows, own, arcColumn.voltageSquared);
  widen(sums, columnOf(rows, own, arcColumn.minCurrent), columnOf(rows, own, arcColumn.maxCurrent), columnOf(rows, own, arcColumn.minVoltage), columnOf(rows, own, arcColumn.maxVoltage));
  sums.positiveTime += columnOf(rows, own, arcColumn.positiveTime);
  addRms(sums, rows, own);
  addRawColumns(sums.raw, rows, own);
  addColumns(sums.spreads, rows, own);
  sums.extinctions += columnOf(rows, own, arcColumn.extinctions);
  sums.shortCircuits += columnOf(rows, own, arcColumn.shortCircuits);
  if (hasFlag(rows, own, arcRowFlags.slow)) sums.slow = true;
  if (hasFlag(rows, own, arcRowFlags.block)) sums.block = true;
}

function addRms(sums: ArcSums, rows: Float64Array, own: number): void {
  const on = columnOf(rows, own, arcColumn.on);
  if (!(on > 0)) return;
  const deviation = standardDeviation(on, columnOf(rows, own, arcColumn.current), columnOf(rows, own, arcColumn.currentSquared));
  sums.ripple += deviation * deviation * on;
  if (alternatesIn(columnOf(rows, own, arcColumn.flags))) sums.alternating += on;
  const { rms } = sums;
  const current = Math.sqrt(columnOf(rows, own, arcColumn.currentSquared) / on);
  const voltage = Math.sqrt(columnOf(rows, own, arcColumn.voltageSquared) / on);
  rms.current += current * on;
  rms.voltage += voltage * on;
  if (current < rms.currentMin) rms.currentMin = current;
  if (current > rms.currentMax) rms.currentMax = current;
  if (voltage < rms.voltageMin) rms.voltageMin = voltage;
  if (voltage > rms.voltageMax) rms.voltageMax = voltage;
}

import { alternatesIn } from './alternating.js';
import type { ElectricSums } from './electric-sums.js';
import { addSums, noElectricSums } from './electric-sums.js';
import type { ArcRow } from './row.js';
import { arcRowFlags } from './row.js';
import type { SpreadSum } from './spread-sum.js';
import { addColumns, cloneSpreads, noSpreads } from './spread-sum.js';

/** What the rows of one arc of a run add up to, arc on. Integrals as in `ArcRow`. */
export interface ArcSums extends ElectricSums {
  on: number;
  length: number;
  samples: number;
  /** Time and row RMS values of rows in which the current alternates: for AC these are the judged values. */
  alternating: number;
  rms: { current: number; currentMin: number; currentMax: number; voltage: number; voltageMin: number; voltageMax: number };
  /** In the order of `spreadNames`. */
  spreads: SpreadSum[];
  /** NaN where part of the data cannot show them. */
  extinctions: number;
  shortCircuits: number;
  /** Some sample was a reading or of a block slower than 1 ms; some came from a block. */
  slow: boolean;
  block: boolean;
}

export function startArcSums(): ArcSums {
  return {
    on: 0, length: 0, samples: 0, ...noElectricSums(),
    alternating: 0,
    rms: { current: 0, currentMin: Infinity, currentMax: -Infinity, voltage: 0, voltageMin: Infinity, voltageMax: -Infinity },
    spreads: noSpreads(), extinctions: 0, shortCircuits: 0, slow: false, block: false,
  };
}

export function cloneArcSums(sums: ArcSums): ArcSums {
  return { ...sums, rms: { ...sums.rms }, spreads: cloneSpreads(sums.spreads) };
}

/** Adds a row in which the arc was on. */
export function addArcRow(sums: ArcSums, row: ArcRow): void {
  sums.on += row.on;
  sums.length += row.length;
  sums.samples += row.samples;
  addSums(sums, row);
  if (row.on > 0) addRms(sums, row);
  addColumns(sums.spreads, row);
  sums.extinctions += row.extinctions;
  sums.shortCircuits += row.shortCircuits;
  if ((row.flags & arcRowFlags.slow) !== 0) sums.slow = true;
  if ((row.flags & arcRowFlags.block) !== 0) sums.block = true;
}

function addRms(sums: ArcSums, row: ArcRow): void {
  if (alternatesIn(row.flags)) sums.alternating += row.on;
  const { rms } = sums;
  const current = Math.sqrt(row.currentSquared / row.on);
  const voltage = Math.sqrt(row.voltageSquared / row.on);
  rms.current += current * row.on;
  rms.voltage += voltage * row.on;
  if (current < rms.currentMin) rms.currentMin = current;
  if (current > rms.currentMax) rms.currentMax = current;
  if (voltage < rms.voltageMin) rms.voltageMin = voltage;
  if (voltage > rms.voltageMax) rms.voltageMax = voltage;
}

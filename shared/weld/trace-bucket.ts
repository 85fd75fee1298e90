import type { ArcRow } from './row.js';
import { arcRowFlags } from './row.js';

/** Sums over the rows of one arc that fall into one bucket of a thinned trace. */
export interface TraceBucket {
  /** Whether a value stood in it. */
  filled: boolean;
  /** mm travelled at its start, NaN where not known. */
  travelled: number;
  time: number;
  current: number;
  voltage: number;
  minCurrent: number;
  maxCurrent: number;
  minVoltage: number;
  maxVoltage: number;
  /** J and mm with the arc on. */
  energy: number;
  length: number;
  feedTime: number;
  feed: number;
  temperature: number;
  /** Sum and number of the run's travel speeds. */
  speed: number;
  speeds: number;
}

export function emptyBucket(): TraceBucket {
  return {
    filled: false, travelled: Number.NaN, time: 0, current: 0, voltage: 0,
    minCurrent: Infinity, maxCurrent: -Infinity, minVoltage: Infinity, maxVoltage: -Infinity,
    energy: 0, length: 0, feedTime: 0, feed: 0, temperature: Number.NaN, speed: 0, speeds: 0,
  };
}

/** Time that a row's sums are over, s: arc-on time, or covered time where the arc was off. */
export function timeOf(row: ArcRow): number {
  return row.on > 0 ? row.on : row.covered;
}

/** ∫|I| dt and ∫|U| dt as they are shown and judged: an alternating arc counts with the row's RMS. */
export function shownSums(row: ArcRow): { readonly current: number; readonly voltage: number } {
  if ((row.flags & arcRowFlags.alternating) === 0) return row;
  const time = timeOf(row);
  return { current: Math.sqrt(row.currentSquared * time), voltage: Math.sqrt(row.voltageSquared * time) };
}

export function addToBucket(bucket: TraceBucket, row: ArcRow): void {
  if (!bucket.filled && Number.isNaN(bucket.travelled)) bucket.travelled = row.travelled;
  const time = timeOf(row);
  // The last reading of all stands for no time: where its values are not in the row it is no data.
  if (time === 0 && !Number.isFinite(row.minCurrent)) return;
  bucket.filled = true;
  const shown = shownSums(row);
  bucket.time += time;
  bucket.current += shown.current;
  bucket.voltage += shown.voltage;
  bucket.minCurrent = Math.min(bucket.minCurrent, row.minCurrent);
  bucket.maxCurrent = Math.max(bucket.maxCurrent, row.maxCurrent);
  bucket.minVoltage = Math.min(bucket.minVoltage, row.minVoltage);
  bucket.maxVoltage = Math.max(bucket.maxVoltage, row.maxVoltage);
  if (row.on > 0) {
    bucket.energy += row.energy;
    bucket.length += row.length;
  }
  if (!Number.isNaN(row.wireFeedSpeed)) {
    bucket.feedTime += row.feedTime;
    bucket.feed += row.wireFeedSpeed * row.feedTime;
  }
  if (!Number.isNaN(row.plateTemperature)) bucket.temperature = row.plateTemperature;
}

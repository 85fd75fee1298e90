import { microseconds, type PlacedItem } from '../items/device-clock.js';
import { valueAt, type Values } from '../items/item.js';

/** A `plateTemperature` as a carriage sent it: µs of corrected time, °C. */
export interface PlateSample {
  readonly at: number;
  readonly value: number;
}

/** What the temperature of a run depends on besides what was entered: µs of corrected time. */
export interface RunBeginning {
  readonly start: number;
  /** When the carriage's run before it began; null for its first run. */
  readonly before: number | null;
  /** The newest sample of `plateTemperature` at or before the start and after that of the run before. */
  readonly plate: PlateSample | null;
}

export function runBeginning(samples: PlateSamples, before: number | null, start: number): RunBeginning {
  const newest = plateAt(samples, start);
  return { start, before, plate: newest !== null && (before === null || newest.at > before) ? newest : null };
}

/** The samples of one item: one for a reading, several for a block. */
interface PlateStretch {
  readonly from: number;
  /** µs between two samples; 0 for a reading. */
  readonly interval: number;
  readonly count: number;
  readonly values: Values;
}

/** The newest samples, in the order of their items: as many as a run may still need that begins in rows which are not made yet. */
export type PlateSamples = PlateStretch[];

/** Adds the samples of an item, if it has any (in place). */
export function feedPlate(samples: PlateSamples, { item, start }: Pick<PlacedItem, 'item' | 'start'>): void {
  if (item.plateTemperature === null) return;
  samples.push({ from: start, interval: microseconds(item.interval ?? 0), count: item.count, values: item.plateTemperature });
}

/** The newest sample at or before a time; of several at one time, that of the item which is later in order. Null if there is none. */
export function plateAt(samples: PlateSamples, time: number): PlateSample | null {
  let newest: PlateSample | null = null;
  for (const stretch of samples) {
    const own = sampleAt(stretch, time);
    if (own !== null && (newest === null || own.at >= newest.at)) newest = own;
  }
  return newest;
}

/** Drops what no run needs that begins at `time` or later (in place). */
export function dropPlateBefore(samples: PlateSamples, time: number): void {
  if (samples.length < 2) return;
  let newest = -1;
  let newestAt = -Infinity;
  samples.forEach((stretch, index) => {
    const own = sampleAt(stretch, time);
    if (own === null || own.at < newestAt) return;
    newest = index;
    newestAt = own.at;
  });
  let kept = 0;
  samples.forEach((stretch, index) => {
    if (index !== newest && stretch.from + stretch.interval * (stretch.count - 1) <= time) return;
    samples[kept] = stretch;
    kept += 1;
  });
  samples.length = kept;
}

function sampleAt({ from, interval, count, values }: PlateStretch, time: number): PlateSample | null {
  if (from > time) return null;
  const index = interval > 0 ? Math.min(count - 1, Math.floor((time - from) / interval)) : 0;
  return { at: Math.round(from + interval * index), value: valueAt(values, index) };
}

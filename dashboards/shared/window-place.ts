import type { Carriage } from '../../shared/api-types/carriage.js';

/** Ranges in force, by arc and for the carriage. */
export type WindowsInForce = NonNullable<Carriage['windows']>;

/** The lowest and highest value that is allowed, in the API's unit; either end may be absent. */
export type Window = NonNullable<WindowsInForce['travelSpeed']>;

/** Where a value lies: outside, near one end, or inside. `by` is how far beyond its limit it lies, in the value's unit, else 0. */
export interface WindowPlace { readonly side: 'below' | 'nearLow' | 'inside' | 'nearHigh' | 'above'; readonly by: number }

/** Within this share of the window's width an end is near (of the limit itself where the other end is open); common practice, no source. */
const near = 0.1;

export function placeIn({ min, max }: Window, value: number): WindowPlace {
  if (min !== undefined && value < min) return { side: 'below', by: min - value };
  if (max !== undefined && value > max) return { side: 'above', by: value - max };
  const margin = near * (min !== undefined && max !== undefined ? max - min : Math.abs(min ?? max ?? 0));
  if (min !== undefined && value - min < margin) return { side: 'nearLow', by: 0 };
  if (max !== undefined && max - value < margin) return { side: 'nearHigh', by: 0 };
  return { side: 'inside', by: 0 };
}

/** The range of a bar, with a part on either side of the window for values outside. */
export interface BarScale { readonly low: number; readonly high: number }

export function barScale({ min, max }: Window): BarScale {
  if (min !== undefined && max !== undefined) {
    const part = (max - min || Math.abs(max) * 0.1 || 1) / 3;
    return { low: min - part, high: max + part };
  }
  if (max !== undefined) return { low: max - Math.abs(max || 1), high: max + Math.abs(max || 1) / 3 };
  const least = min ?? 0;
  return { low: least - Math.abs(least || 1) / 3, high: least + Math.abs(least || 1) };
}

/** The range in which a line without limits is drawn: from its least to its greatest value, with a quarter of that on either side. */
export function ownScale(values: readonly number[]): BarScale {
  if (values.length === 0) return { low: 0, high: 1 };
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low) / 4 || Math.abs(high) * 0.05 || 1;
  return { low: low - room, high: high + room };
}

/** A value's place on the bar, 0 to 1; values beyond the bar are at its end. */
export function shareOf({ low, high }: BarScale, value: number): number {
  return Math.min(1, Math.max(0, (value - low) / (high - low)));
}

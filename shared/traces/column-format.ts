import { folded } from './byte-planes.js';

/*
 * The difference between a column and what is expected of it. A value that is not as expected is written as
 *   - a whole number: the distance of its nearest multiple of 1/scale from that of the prediction, and
 *   - a byte: the number of Float64 neighbours from that multiple to the value (from the prediction itself if the multiples are equal).
 * Sums of decimal readings are decimal to within a few neighbours, so this is short even where nothing could be predicted exactly. A value that does
 * not fit is written out. Each value is rebuilt and compared when it is written.
 *
 * A column begins with its scale number. Then come the whole numbers in byte planes, one for each row (0 where the value is as expected), the bytes
 * likewise, and the values that are written out. If only a few values are not as expected (`fewFlag` added to the number), one byte gives their
 * number; then come their rows and only their own entries.
 */

/** Stands in place of the number of neighbours: the value is written out. */
const written = -127;
export const writtenCode = folded(written);
export const mostSteps = 126;
const largestUnit = 2 ** 51;
/** Up to this size a division and a product, each with a relative error of 2⁻⁵³, leave the original whole number as the nearest one. */
export const surelyRegained = 2 ** 49;
/** 0 means no whole numbers, only neighbours of the prediction. Multiples of 1/60 come from mm/min × s. */
export const scales = [0, 1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 6, 60, 600, 6e3, 6e4, 6e5, 6e6, 6e7, 6e8, 6e9, 6e10];
/** Stands in place of the scale number: every value is as predicted, and nothing follows. */
export const asPredicted = 254;
/** Added to the scale number: only a few values are not as predicted. */
export const fewFlag = 128;
export const mostFew = 16;

/** The number of the nearest multiple of 1/scale to a value; 0 where the value is too large for that to be exact. */
export function units(value: number, scale: number): number {
  // Adding 0 turns −0 into 0: the reader gets the unit as a sum, which is never −0.
  const unit = Math.round(value * scale) + 0;
  return Math.abs(unit) <= largestUnit ? unit : 0;
}

import { bareColumn } from './column-room.js';

/*
 * A reading holds from its time until the next one, so a row mostly contains the end of one reading and the beginning of the next: two parts. Where a
 * row's sums can be split into the values of these readings, which are short decimals, the values are stored, and the sums are computed from them
 * again, in the same order and with the same rounding.
 */

const microsecond = 1e6;

/** How many parts a row is made of: 1, 2, or 0 where it could not be split. */
export interface Parts {
  readonly parts: Float64Array;
  /** Duration of all parts together, µs. */
  readonly span: Float64Array;
  /** Duration of the first of two parts, µs. */
  readonly border: Float64Array;
}

/** Σ value·dt over the parts of one row. */
export function summed(span: number, border: number, parts: number, first: number, second: number): number {
  return parts === 2 ? 0 + first * (border / microsecond) + second * ((span - border) / microsecond) : 0 + first * (span / microsecond);
}

/** Durations of each row's parts, s; the second is 0 where there is only one part. */
export interface PartTimes {
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** Their sum. */
  readonly whole: Float64Array;
}

export function partTimes({ parts, span, border }: Parts): PartTimes {
  const count = parts.length;
  const first = bareColumn(count);
  const second = bareColumn(count);
  const whole = bareColumn(count);
  for (let row = 0; row < count; row += 1) {
    const split = parts[row] === 2;
    const before = (split ? (border[row] ?? 0) : (span[row] ?? 0)) / microsecond;
    const after = split ? ((span[row] ?? 0) - (border[row] ?? 0)) / microsecond : 0;
    first[row] = before;
    second[row] = after;
    whole[row] = before + after;
  }
  return { first, second, whole };
}

/** Σ value·dt over the parts of each row, as `summed`: adding a second part of 0 changes no bit. */
export function partSums(times: PartTimes, first: Float64Array, second: Float64Array): Float64Array {
  const sums = bareColumn(first.length);
  const { first: before, second: after } = times;
  for (let row = 0; row < first.length; row += 1) sums[row] = 0 + (first[row] ?? 0) * (before[row] ?? 0) + (second[row] ?? 0) * (after[row] ?? 0);
  return sums;
}

/** Σ a·b·dt over the parts of each row, with the rounding of `partSums` over the products. */
export function partProducts(times: PartTimes, firstA: Float64Array, firstB: Float64Array, secondA: Float64Array, secondB: Float64Array): Float64Array {
  const sums = bareColumn(firstA.length);
  const { first: before, second: after } = times;
  for (let row = 0; row < firstA.length; row += 1) {
    sums[row] = 0 + (firstA[row] ?? 0) * (firstB[row] ?? 0) * (before[row] ?? 0) + (secondA[row] ?? 0) * (secondB[row] ?? 0) * (after[row] ?? 0);
  }
  return sums;
}

/** mm travelled in the parts of each row at speeds in mm/min. */
export function partLengths(times: PartTimes, first: Float64Array, second: Float64Array): Float64Array {
  const sums = bareColumn(first.length);
  const { first: before, second: after } = times;
  for (let row = 0; row < first.length; row += 1) {
    sums[row] = 0 + (Math.abs(first[row] ?? 0) / 60) * (before[row] ?? 0) + (Math.abs(second[row] ?? 0) / 60) * (after[row] ?? 0);
  }
  return sums;
}

/** mm travelled in the parts of one row at speeds in mm/min. */
export function partLength(span: number, border: number, parts: number, first: number, second: number): number {
  return summed(span, border, parts, Math.abs(first) / 60, Math.abs(second) / 60);
}

/** The border at which the parts would give `sum`, in whole µs. */
export function borderFor(sum: number, span: number, first: number, second: number): number {
  return Math.round((microsecond * (sum - second * (span / microsecond))) / (first - second));
}

/** Borders to try where the first and second values are equal: the last border, and borders a few ms of jitter away from it. */
export function bordersNear(last: number): number[] {
  const tries = [last];
  for (let ms = 1; ms <= 3; ms += 1) tries.push(last + 1000 * ms, last - 1000 * ms);
  return tries;
}

/** The values of a row's two parts (equal where it has only one). */
export interface Pair {
  readonly first: number;
  readonly second: number;
}

/** Both orders of a row's least and greatest value, first the one that continues from `last`. */
export function orders(least: number, greatest: number, last: number): readonly Pair[] {
  const rising = { first: least, second: greatest };
  if (Object.is(least, greatest)) return [rising];
  const falling = { first: greatest, second: least };
  return greatest === last ? [falling, rising] : [rising, falling];
}

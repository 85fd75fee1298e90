import { bareColumn, newColumn } from './column-room.js';

/*
 * Arithmetic on whole columns of equal length, row by row. These are plain loops, since `map` of a typed array takes several times as long. The `??
 * 0` satisfies the type checker; no row is out of range.
 */

export function product(a: Float64Array, b: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = (a[row] ?? 0) * (b[row] ?? 0);
  return result;
}

export function quotient(a: Float64Array, b: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = (a[row] ?? 0) / (b[row] ?? 0);
  return result;
}

export function lesser(a: Float64Array, b: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = Math.min((a[row] ?? 0), (b[row] ?? 0));
  return result;
}

export function greater(a: Float64Array, b: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = Math.max((a[row] ?? 0), (b[row] ?? 0));
  return result;
}

/** `a`, or `b` where `a` is 0. */
export function orElse(a: Float64Array, b: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = a[row] === 0 ? (b[row] ?? 0) : (a[row] ?? 0);
  return result;
}

export function less(a: number, b: Float64Array): Float64Array {
  const result = bareColumn(b.length);
  for (let row = 0; row < b.length; row += 1) result[row] = a - (b[row] ?? 0);
  return result;
}

/** A speed in mm/min as an absolute speed in mm/s. */
export function perSecond(speed: Float64Array): Float64Array {
  const result = bareColumn(speed.length);
  for (let row = 0; row < speed.length; row += 1) result[row] = Math.abs((speed[row] ?? 0)) / 60;
  return result;
}

/** The difference between each value and the one before it. */
export function differences(a: Float64Array): Float64Array {
  const result = newColumn(a.length);
  for (let row = 1; row < a.length; row += 1) result[row] = (a[row] ?? 0) - (a[row - 1] ?? 0);
  return result;
}

/** The column shifted by one row: each row has the value of the row before, and the first row has 0. */
export function shifted(a: Float64Array): Float64Array {
  const result = newColumn(a.length);
  result.set(a.subarray(0, -1), a.length > 0 ? 1 : 0);
  return result;
}

/** a² / time, or 0 where there is no time: the sum of squares of a constant value. */
export function evenSquares(a: Float64Array, time: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = (time[row] ?? 0) === 0 ? 0 : ((a[row] ?? 0) * (a[row] ?? 0)) / (time[row] ?? 0);
  return result;
}

/** `a`, or 0 where `known` is NaN. */
export function whereKnown(a: Float64Array, known: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = Number.isNaN((known[row] ?? 0)) ? 0 : (a[row] ?? 0);
  return result;
}

/** The absolute value of `a` where neither pair of extremes crosses 0, else `a`. */
export function withoutSign(a: Float64Array, leastI: Float64Array, mostI: Float64Array, leastU: Float64Array, mostU: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) {
    const oneSided = ((leastI[row] ?? 0) >= 0 || (mostI[row] ?? 0) <= 0) && ((leastU[row] ?? 0) >= 0 || (mostU[row] ?? 0) <= 0);
    result[row] = oneSided ? Math.abs((a[row] ?? 0)) : (a[row] ?? 0);
  }
  return result;
}

import { bareColumn, newColumn } from './column-room.js';

/*
 * Arithmetic on whole columns of one length, row by row; plain loops, since `map` of a typed array takes several times as long. The `?? 0` is for
 * the compiler of types: no row lies outside, so it costs nothing.
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

/** `a`, and `b` where `a` is 0. */
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

/** mm/s of a speed in mm/min, absolute. */
export function perSecond(speed: Float64Array): Float64Array {
  const result = bareColumn(speed.length);
  for (let row = 0; row < speed.length; row += 1) result[row] = Math.abs((speed[row] ?? 0)) / 60;
  return result;
}

/** What each value has more than the one before it. */
export function differences(a: Float64Array): Float64Array {
  const result = newColumn(a.length);
  for (let row = 1; row < a.length; row += 1) result[row] = (a[row] ?? 0) - (a[row - 1] ?? 0);
  return result;
}

/** The column one row later: each row has the value of the row before, the first one 0. */
export function shifted(a: Float64Array): Float64Array {
  const result = newColumn(a.length);
  result.set(a.subarray(0, -1), a.length > 0 ? 1 : 0);
  return result;
}

/** a² / time, and 0 where there is no time: the sum of squares of a value that does not change. */
export function evenSquares(a: Float64Array, time: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = (time[row] ?? 0) === 0 ? 0 : ((a[row] ?? 0) * (a[row] ?? 0)) / (time[row] ?? 0);
  return result;
}

/** `a`, and 0 where `known` is NaN. */
export function whereKnown(a: Float64Array, known: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) result[row] = Number.isNaN((known[row] ?? 0)) ? 0 : (a[row] ?? 0);
  return result;
}

/** `a` without its sign where neither pair goes from one side of 0 to the other. */
export function withoutSign(a: Float64Array, leastI: Float64Array, mostI: Float64Array, leastU: Float64Array, mostU: Float64Array): Float64Array {
  const result = bareColumn(a.length);
  for (let row = 0; row < a.length; row += 1) {
    const oneSided = ((leastI[row] ?? 0) >= 0 || (mostI[row] ?? 0) <= 0) && ((leastU[row] ?? 0) >= 0 || (mostU[row] ?? 0) <= 0);
    result[row] = oneSided ? Math.abs((a[row] ?? 0)) : (a[row] ?? 0);
  }
  return result;
}

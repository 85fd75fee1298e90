import { bareColumn } from './column-room.js';
import { at } from './row-columns.js';
import { same } from './same-number.js';

/**
 * What a column is expected to hold: `begin` in the first row, then either the value before plus that of `base` (`goesOn` true), or the value of
 * `base`. Without a base, each later row adds 0 or is `begin` again. It covers whole columns, since a call per value would take most of the time.
 */
export interface Expectation {
  readonly begin: number;
  readonly base: Float64Array | null;
  /** One answer for all rows, or row by row (1 is true). */
  readonly goesOn: boolean | Uint8Array;
}

export function expected(e: Expectation, row: number, own: Float64Array): number {
  if (row === 0) return e.begin;
  const goesOn = e.goesOn === true || (e.goesOn !== false && e.goesOn[row] === 1);
  if (e.base === null) return goesOn ? (own[row - 1] ?? 0) : e.begin;
  return goesOn ? (own[row - 1] ?? 0) + (e.base[row] ?? 0) : (e.base[row] ?? 0);
}

/** The value that each row of `own` is expected to have, given those before it. */
export function predictedColumn(e: Expectation, own: Float64Array): Float64Array {
  const { begin, base, goesOn } = e;
  if (goesOn === false && base !== null && same(begin, at(base, 0))) return base;
  const values = bareColumn(own.length);
  if (goesOn === true) {
    for (let row = 1; row < own.length; row += 1) values[row] = base === null ? (own[row - 1] ?? 0) : (own[row - 1] ?? 0) + (base[row] ?? 0);
    if (own.length > 0) values[0] = begin;
    return values;
  }
  for (let row = 0; row < own.length; row += 1) values[row] = expected(e, row, own);
  return values;
}

/** Expects exactly these values. */
export function exactly(base: Float64Array): Expectation {
  return { begin: at(base, 0), base, goesOn: false };
}

/** Expects the same value throughout. */
export function always(value: number): Expectation {
  return { begin: value, base: null, goesOn: false };
}

/** Expects `begin` in the first row, then the value before plus `steps`. */
export function onward(begin: number, steps: Float64Array | null = null): Expectation {
  return { begin, base: steps, goesOn: true };
}

function allReconstructed(parts: Float64Array): boolean {
  for (let row = 0; row < parts.length; row += 1) if (parts[row] === 0) return false;
  return true;
}

/** Expects the values of `reconstructed` in rows with known parts, and in the other rows the value before plus `steps`. */
export function reconstructedOrOnward(parts: Float64Array, reconstructed: Float64Array, steps?: () => Float64Array): Expectation {
  if (allReconstructed(parts)) return exactly(reconstructed);
  const more = steps?.();
  const goesOn = new Uint8Array(parts.length);
  for (let row = 0; row < parts.length; row += 1) {
    if (parts[row] !== 0) continue;
    goesOn[row] = 1;
    reconstructed[row] = more === undefined ? 0 : (more[row] ?? 0);
  }
  return { begin: at(reconstructed, 0), base: reconstructed, goesOn };
}

/** Expects the values of `reconstructed` in rows with known parts, and those of `other` elsewhere. */
export function reconstructedOr(parts: Float64Array, reconstructed: Float64Array, other: () => Float64Array): Float64Array {
  if (allReconstructed(parts)) return reconstructed;
  const instead = other();
  for (let row = 0; row < parts.length; row += 1) if (parts[row] === 0) reconstructed[row] = (instead[row] ?? 0);
  return reconstructed;
}

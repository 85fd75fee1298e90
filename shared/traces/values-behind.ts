import { at } from './row-columns.js';
import type { Parts } from './row-parts.js';
import { newColumn } from './column-room.js';

/** Computes a sum or mean of one row from the values of its parts. */
export type Evaluate = (span: number, border: number, parts: number, first: number, second: number) => number;

const resolutions = [1, 10, 100, 1000];
const searchedResolutions = [1, 10, 100];
/** How many steps of the resolution are searched around the row's mean for the start of a chain. */
const searchWidth = 40;
/** The most searches spent on a column whose values cannot be found in this way. */
const mostSearches = 6;

/**
 * The values (first and second of each row) for which `evaluate` gives `column`, to the last bit. A row's second value is the next row's first, so
 * each row adds one value; where the start of such a chain is not known, it is searched for around the row's mean. `means` is `column` converted to
 * mean values. Where nothing is found, the last value continues.
 */
export function valuesBehind(column: Float64Array, p: Parts, evaluate: Evaluate, means: Float64Array): { first: Float64Array; second: Float64Array } {
  const first = newColumn(column.length);
  const second = newColumn(column.length);
  let searches = 0;
  let known = 0;

  /** The second value, given `begin` as the first (the only value where a row has one part), or NaN. */
  const solve = (row: number, begin: number): number => {
    const span = at(p.span, row);
    const border = at(p.border, row);
    const parts = at(p.parts, row);
    const guess = parts === 2 ? (at(means, row) * span - begin * border) / (span - border) : at(means, row);
    for (const resolution of resolutions) {
      const candidate = Math.round(guess * resolution) / resolution;
      if (Object.is(evaluate(span, border, parts, parts === 2 ? begin : candidate, candidate), at(column, row))) return candidate;
    }
    return Number.NaN;
  };
  /** A value that starts a chain and also fits the next row, or NaN. */
  const search = (row: number): number => {
    searches += 1;
    const mean = at(means, row);
    for (const resolution of searchedResolutions) {
      const middle = Math.round(mean * resolution);
      for (let step = 0; step <= 2 * searchWidth; step += 1) {
        const begin = (middle + (step % 2 === 0 ? step / 2 : -(step + 1) / 2)) / resolution;
        const end = solve(row, begin);
        if (!(Math.abs(end - mean) * resolution <= searchWidth)) continue;
        if (at(p.parts, row + 1) !== 2 || !Number.isNaN(solve(row + 1, end))) return begin;
      }
    }
    return Number.NaN;
  };

  for (let row = 0; row < column.length; row += 1) {
    let begin = known;
    let end = Number.NaN;
    const parts = at(p.parts, row);
    if (parts > 0 && Number.isFinite(at(means, row))) {
      end = solve(row, begin);
      if (Number.isNaN(end) && parts === 2 && searches < mostSearches) {
        const found = search(row);
        if (!Number.isNaN(found)) {
          begin = found;
          end = solve(row, begin);
          searches = 0;
        }
      }
      if (parts === 1 && !Number.isNaN(end)) begin = end;
    }
    if (Number.isNaN(end)) end = begin;
    first[row] = begin;
    second[row] = end;
    known = end;
  }
  return { first, second };
}

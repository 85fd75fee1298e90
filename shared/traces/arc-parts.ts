import type { ArcParts } from './arc-model.js';
import { at, type ArcColumns } from './row-columns.js';
import { borderFor, bordersNear, partLength, summed, type Parts } from './row-parts.js';
import { same } from './same-number.js';
import { newColumn } from './column-room.js';

/** A row split into parts: their number (0: it could not be split), the border between two parts, and the values of the readings. */
interface Found {
  parts: 0 | 1 | 2;
  border: number;
  firstI: number;
  secondI: number;
  firstU: number;
  secondU: number;
  firstF: number;
  secondF: number;
}

/** Whether these parts give a row's five sums to the last bit. */
function fits(c: ArcColumns, row: number, span: number, parts: 1 | 2, border: number, f: Found): boolean {
  const { firstI: i, secondI: j, firstU: u, secondU: v } = f;
  return (
    same(summed(span, border, parts, i, j), at(c.current, row)) &&
    same(summed(span, border, parts, u, v), at(c.voltage, row)) &&
    same(Math.abs(summed(span, border, parts, u * i, v * j)), Math.abs(at(c.energy, row))) &&
    same(summed(span, border, parts, i * i, j * j), at(c.currentSquared, row)) &&
    same(summed(span, border, parts, u * u, v * v), at(c.voltageSquared, row))
  );
}

/** Moves `f` on from the row before to this one; the border and the last values of that row are the starting point. */
function takeApart(c: ArcColumns, row: number, span: number, f: Found): void {
  const [leastI, mostI, leastU, mostU] = [at(c.minCurrent, row), at(c.maxCurrent, row), at(c.minVoltage, row), at(c.maxVoltage, row)];
  const [evenI, evenU] = [same(leastI, mostI), same(leastU, mostU)];
  const { border: lastBorder, secondI: lastI, secondU: lastU } = f;
  // Try both orders of each pair, first the one that continues the row before.
  for (let turnI = evenI ? 1 : 0; turnI < 2; turnI += 1) {
    const fallsI = (mostI === lastI) === (turnI === 0);
    f.firstI = fallsI ? mostI : leastI;
    f.secondI = fallsI ? leastI : mostI;
    for (let turnU = evenU ? 1 : 0; turnU < 2; turnU += 1) {
      const fallsU = (mostU === lastU) === (turnU === 0);
      f.firstU = fallsU ? mostU : leastU;
      f.secondU = fallsU ? leastU : mostU;
      if (evenI && evenU) {
        if (fits(c, row, span, 1, lastBorder, f)) {
          f.parts = 1;
          return;
        }
        for (const border of bordersNear(lastBorder)) if (splits(c, row, span, border, f)) return;
      } else if (splits(c, row, span, evenI ? borderFor(at(c.voltage, row), span, f.firstU, f.secondU) : borderFor(at(c.current, row), span, f.firstI, f.secondI), f)) return;
    }
  }
  goOn(f, lastI, lastU);
}

/** Where a row cannot be split, the last values continue. */
function goOn(f: Found, lastI: number, lastU: number): void {
  f.parts = 0;
  f.firstI = f.secondI = lastI;
  f.firstU = f.secondU = lastU;
}

function splits(c: ArcColumns, row: number, span: number, border: number, f: Found): boolean {
  if (!(border > 0 && border < span && fits(c, row, span, 2, border, f))) return false;
  f.parts = 2;
  f.border = border;
  return true;
}

/** Finds the wire feed speeds of a row's parts; where they cannot be found, the last one continues. */
function takeFeeds(c: ArcColumns, row: number, span: number, f: Found): void {
  const [least, most, last] = [at(c.minFeed, row), at(c.maxFeed, row), f.secondF];
  const mean = at(c.wireFeedSpeed, row);
  for (let turn = same(least, most) ? 1 : 0; turn < 2; turn += 1) {
    const falls = (most === last) === (turn === 0);
    f.firstF = falls ? most : least;
    f.secondF = falls ? least : most;
    if (same(summed(span, f.border, f.parts, f.firstF, f.secondF) / summed(span, f.border, f.parts, 1, 1), mean)) return;
  }
  f.firstF = f.secondF = last;
}

const resolutions = [1, 10, 100, 1000];
const searchedResolutions = [1, 10, 100];
/** How many steps of the resolution are searched around the row's mean for the start of a chain. */
const searchWidth = 40;
/** The most searches spent on a column whose values cannot be found in this way. */
const mostSearches = 6;

/**
 * The values (first and second of each row) for which `partLength` gives `column`, to the last bit. A row's second value is the next row's first, so
 * each row adds one value; where the start of such a chain is not known, it is searched for around the row's mean. `means` is `column` converted to
 * mean values. Where nothing is found, the last value continues.
 */
function valuesBehind(column: Float64Array, p: Parts, means: Float64Array): { first: Float64Array; second: Float64Array } {
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
      if (Object.is(partLength(span, border, parts, parts === 2 ? begin : candidate, candidate), at(column, row))) return candidate;
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

/** Splits the rows of an arc into readings, as far as those give back exactly the same rows. */
export function arcParts(c: ArcColumns): ArcParts {
  const count = c.index.length;
  const column = (): Float64Array => newColumn(count);
  const p = { parts: column(), span: column(), border: column() };
  const values = {
    firstCurrent: column(), secondCurrent: column(), firstVoltage: column(), secondVoltage: column(), firstFeed: column(), secondFeed: column(),
  };
  const f: Found = { parts: 0, border: 0, firstI: 0, secondI: 0, firstU: 0, secondU: 0, firstF: 0, secondF: 0 };
  for (let row = 0; row < count; row += 1) {
    const length = Math.round((at(c.on, row) || at(c.covered, row)) * 1e6);
    if (length > 0) takeApart(c, row, length, f);
    else goOn(f, f.secondI, f.secondU);
    if (f.parts === 0) f.firstF = f.secondF;
    else takeFeeds(c, row, length, f);
    p.parts[row] = f.parts;
    p.span[row] = f.parts === 0 ? 100_000 - at(c.from, row) : length;
    p.border[row] = f.border;
    values.firstCurrent[row] = f.firstI;
    values.secondCurrent[row] = f.secondI;
    values.firstVoltage[row] = f.firstU;
    values.secondVoltage[row] = f.secondU;
    values.firstFeed[row] = f.firstF;
    values.secondFeed[row] = f.secondF;
  }
  const means = column();
  const direction = column();
  for (let row = 0; row < count; row += 1) {
    means[row] = (at(c.length, row) * 60e6) / at(p.span, row);
    direction[row] = at(c.travelled, row + 1) < at(c.travelled, row) ? -1 : 1;
  }
  const speed = valuesBehind(c.length, p, means);
  return { ...p, ...values, firstSpeed: speed.first, secondSpeed: speed.second, direction };
}

import type { ArcParts } from './arc-model.js';
import { at } from './row-columns.js';
import type { ArcColumns } from './row-columns.js';
import { borderFor, bordersNear, orders, partLength, partMean, summed } from './row-parts.js';
import type { Pair } from './row-parts.js';
import { valuesBehind } from './values-behind.js';
import { newColumn } from './column-room.js';

/** A row taken apart: how many parts, the border between two, the readings' values. */
interface Found {
  readonly parts: 1 | 2;
  readonly border: number;
  readonly current: Pair;
  readonly voltage: Pair;
}

/** Whether a row's five sums are those of these parts, to the last bit. */
function fits(c: ArcColumns, row: number, span: number, found: Found): boolean {
  const { current: i, voltage: u, parts, border } = found;
  const gives = (column: Float64Array, first: number, second: number): boolean => Object.is(summed(span, border, parts, first, second), at(column, row));
  return (
    gives(c.current, i.first, i.second) &&
    gives(c.voltage, u.first, u.second) &&
    Object.is(Math.abs(summed(span, border, parts, u.first * i.first, u.second * i.second)), Math.abs(at(c.energy, row))) &&
    gives(c.currentSquared, i.first * i.first, i.second * i.second) &&
    gives(c.voltageSquared, u.first * u.first, u.second * u.second)
  );
}

/** The parts of a row that follows one which ended with `lastCurrent` and `lastVoltage` and was split at `lastBorder`. */
function takeApart(c: ArcColumns, row: number, span: number, lastCurrent: number, lastVoltage: number, lastBorder: number): Found | null {
  const currents = orders(at(c.minCurrent, row), at(c.maxCurrent, row), lastCurrent);
  const voltages = orders(at(c.minVoltage, row), at(c.maxVoltage, row), lastVoltage);
  for (const current of currents) {
    for (const voltage of voltages) {
      if (currents.length === 1 && voltages.length === 1) {
        const whole: Found = { parts: 1, border: lastBorder, current, voltage };
        if (fits(c, row, span, whole)) return whole;
      }
      let tries = bordersNear(lastBorder);
      if (currents.length === 2) tries = [borderFor(at(c.current, row), span, current.first, current.second)];
      else if (voltages.length === 2) tries = [borderFor(at(c.voltage, row), span, voltage.first, voltage.second)];
      for (const border of tries) {
        const split: Found = { parts: 2, border, current, voltage };
        if (border > 0 && border < span && fits(c, row, span, split)) return split;
      }
    }
  }
  return null;
}

/** The wire feed speeds of a row's parts; the last one goes on where they can't be told. */
function feeds(c: ArcColumns, row: number, span: number, found: Found, last: number): Pair {
  for (const feed of orders(at(c.minFeed, row), at(c.maxFeed, row), last)) {
    if (Object.is(partMean(span, found.border, found.parts, feed.first, feed.second), at(c.wireFeedSpeed, row))) return feed;
  }
  return { first: last, second: last };
}

/** Takes the rows of an arc apart into readings, as far as that gives back the very same rows. */
export function arcParts(c: ArcColumns): ArcParts {
  const count = c.index.length;
  const column = (): Float64Array => newColumn(count);
  const p = { parts: column(), span: column(), border: column() };
  const values = {
    firstCurrent: column(), secondCurrent: column(), firstVoltage: column(), secondVoltage: column(), firstFeed: column(), secondFeed: column(),
  };
  let border = 0;
  let i = 0;
  let u = 0;
  let feed = 0;
  for (let row = 0; row < count; row += 1) {
    const length = Math.round((at(c.on, row) || at(c.covered, row)) * 1e6);
    const found = length > 0 ? takeApart(c, row, length, i, u, border) : null;
    const current = found?.current ?? { first: i, second: i };
    const voltage = found?.voltage ?? { first: u, second: u };
    const fed = found === null ? { first: feed, second: feed } : feeds(c, row, length, found, feed);
    [i, u, feed, border] = [current.second, voltage.second, fed.second, found?.border ?? border];
    p.parts[row] = found?.parts ?? 0;
    p.span[row] = found === null ? 100_000 - at(c.from, row) : length;
    p.border[row] = border;
    values.firstCurrent[row] = current.first;
    values.secondCurrent[row] = current.second;
    values.firstVoltage[row] = voltage.first;
    values.secondVoltage[row] = voltage.second;
    values.firstFeed[row] = fed.first;
    values.secondFeed[row] = fed.second;
  }
  const means = column();
  const direction = column();
  for (let row = 0; row < count; row += 1) {
    means[row] = (at(c.length, row) * 60e6) / at(p.span, row);
    direction[row] = at(c.travelled, row + 1) < at(c.travelled, row) ? -1 : 1;
  }
  const speed = valuesBehind(c.length, p, partLength, means);
  return { ...p, ...values, firstSpeed: speed.first, secondSpeed: speed.second, direction };
}

import { folded, readPlane, readPlanes, unfolded, writePlanes } from './byte-planes.js';
import type { ByteSink, ByteSource } from './byte-sink.js';
import { expected } from './expectation.js';
import type { Expectation } from './expectation.js';
import { stepped, stepsBetween } from './float-steps.js';
import { at } from './row-columns.js';
import { copied, newColumn } from './column-room.js';

/*
 * One column against what is expected. A value is written as
 *   - a whole number: how far its nearest multiple of 1/scale lies from that of the prediction, and
 *   - a byte: how many Float64 neighbours it lies beside that multiple (beside the prediction itself where they are equal).
 * Sums of decimal readings are decimal but for a few neighbours, so this is short even where nothing could be
 * predicted exactly. What does not fit is written out. Each value is rebuilt and compared when it is written.
 */

/** In the place of neighbours: the value is written out. */
const written = -127;
const writtenCode = folded(written);
const mostSteps = 126;
const largestUnit = 2 ** 51;
/** 0: no whole numbers, only neighbours of the prediction. Multiples of 1/60 come from mm/min × s. */
const scales = [0, 1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 6, 60, 600, 6e3, 6e4, 6e5, 6e6, 6e7, 6e8, 6e9, 6e10];
/** In the place of the number of a scale: every value is as predicted, nothing follows. */
const asPredicted = 254;
const sampled = 24;

function units(value: number, scale: number): number {
  // Adding 0 makes −0 to 0: the reader gets the unit as a sum, which is never −0.
  const unit = Math.round(value * scale) + 0;
  return Math.abs(unit) <= largestUnit ? unit : 0;
}

/** Bits that a value would take, roughly. */
function cost(value: number, predicted: number, scale: number): number {
  if (Object.is(value, predicted)) return 0;
  const unit = units(value, scale);
  const away = unit - units(predicted, scale);
  const steps = Math.abs(stepsBetween(away === 0 ? predicted : unit / scale, value));
  return Math.log2(1 + Math.abs(away)) + (steps > mostSteps ? 72 : Math.log2(1 + steps));
}

function cheapestScale(values: Float64Array, predicted: Float64Array): number {
  const missed: number[] = [];
  for (let row = 1; row < values.length; row += 1) if (!Object.is(at(values, row), at(predicted, row))) missed.push(row);
  if (missed.length === 0) return Object.is(at(values, 0), at(predicted, 0)) ? asPredicted : 0;
  const stride = Math.max(1, Math.floor(missed.length / sampled));
  let best = 0;
  let least = Infinity;
  for (const [number, scale] of scales.entries()) {
    let sum = 0;
    for (let i = 0; i < missed.length && sum < least; i += stride) {
      const row = missed[i] ?? 0;
      sum += cost(at(values, row), at(predicted, row), scale);
    }
    if (sum < least) [best, least] = [number, sum];
  }
  return best;
}

export function writeColumn(sink: ByteSink, values: Float64Array, expectation: Expectation): void {
  const count = values.length;
  const predicted = newColumn(count);
  for (let row = 0; row < count; row += 1) predicted[row] = expected(expectation, row, values);
  const number = cheapestScale(values, predicted);
  sink.byte(number);
  if (number === asPredicted) return;
  const scale = scales[number] ?? 0;
  const away = newColumn(count);
  const beside = newColumn(count);
  const outright: number[] = [];
  for (let row = 0; row < count; row += 1) {
    const value = at(values, row);
    const foretold = at(predicted, row);
    if (Object.is(value, foretold)) continue;
    const unit = units(value, scale);
    const distance = unit - units(foretold, scale);
    const base = distance === 0 ? foretold : unit / scale;
    const steps = stepsBetween(base, value);
    // The first one is often far from what is expected and would need planes of its own for all.
    if (row > 0 && Math.abs(steps) <= mostSteps && Object.is(stepped(base, steps), value)) {
      away[row] = distance;
      beside[row] = steps;
    } else {
      beside[row] = written;
      outright.push(value);
    }
  }
  if (scale > 0) writePlanes(sink, away);
  writePlanes(sink, beside);
  writeOutright(sink, outright);
}

/** The eight bytes of each value, like bytes side by side. How many there are shows in the column itself. */
function writeOutright(sink: ByteSink, values: readonly number[]): void {
  const bytes = new DataView(new ArrayBuffer(8));
  const room = sink.room(8 * values.length);
  for (const [place, value] of values.entries()) {
    bytes.setFloat64(0, value);
    for (let plane = 0; plane < 8; plane += 1) room[plane * values.length + place] = bytes.getUint8(plane);
  }
}

function outrightReader(source: ByteSource, count: number): () => number {
  const room = source.take(8 * count);
  const bytes = new DataView(new ArrayBuffer(8));
  let place = 0;
  return () => {
    for (let plane = 0; plane < 8; plane += 1) bytes.setUint8(plane, room[plane * count + place] ?? 0);
    place += 1;
    return bytes.getFloat64(0);
  };
}

export function readColumn(source: ByteSource, count: number, expectation: Expectation): Float64Array {
  const number = source.byte();
  if (number === asPredicted) return foreseen(count, expectation);
  const scale = scales[number];
  if (scale === undefined) throw new Error(`packed rows are damaged: ${number} is no known way to write a column`);
  const away = scale > 0 ? readPlanes(source, count) : null;
  const beside = readPlane(source, count);
  let outright = 0;
  if (beside !== null) for (let row = 0; row < count; row += 1) if (beside[row] === writtenCode) outright += 1;
  const next = outrightReader(source, outright);
  const value = (foretold: number, distance: number, code: number): number => {
    if (code === writtenCode) return next();
    const base = distance === 0 ? foretold : (units(foretold, scale) + distance) / scale;
    return code === 0 ? base : stepped(base, unfolded(code));
  };

  if (expectation.goesOn === false) {
    // Most values are as expected: take all of them over, then see to the others.
    const values = expectation.base === null ? newColumn(count).fill(expectation.begin) : copied(expectation.base);
    for (let row = 0; row < count; row += 1) {
      const distance = away === null ? 0 : at(away, row);
      const code = beside === null ? 0 : (beside[row] ?? 0);
      if (distance !== 0 || code !== 0) values[row] = value(at(values, row), distance, code);
    }
    return values;
  }
  const values = newColumn(count);
  for (let row = 0; row < count; row += 1) {
    values[row] = expected(expectation, row, values);
    const distance = away === null ? 0 : at(away, row);
    const code = beside === null ? 0 : (beside[row] ?? 0);
    if (distance !== 0 || code !== 0) values[row] = value(at(values, row), distance, code);
  }
  return values;
}

/** A column in which every value is as expected. */
function foreseen(count: number, expectation: Expectation): Float64Array {
  if (expectation.goesOn === false && expectation.base !== null) return expectation.base;
  const values = newColumn(count);
  if (expectation.base === null) return Object.is(expectation.begin, 0) ? values : values.fill(expectation.begin);
  for (let row = 0; row < count; row += 1) values[row] = expected(expectation, row, values);
  return values;
}

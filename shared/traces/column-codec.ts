import { folded, passPlanes, readPlane, readPlanes, unfolded, writePlane, writePlanes } from './byte-planes.js';
import type { ByteSink, ByteSource } from './byte-sink.js';
import { expected, foretold } from './expectation.js';
import type { Expectation } from './expectation.js';
import { stepped, stepsBetween } from './float-steps.js';
import { bareColumn, copied, newColumn } from './column-room.js';
import { same } from './same-number.js';

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
/** Up to there a division and a product, 2⁻⁵³ of the result wrong each, leave a whole number nearest to what it was. */
const surelyRegained = 2 ** 49;
/** 0: no whole numbers, only neighbours of the prediction. Multiples of 1/60 come from mm/min × s. */
const scales = [0, 1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 6, 60, 600, 6e3, 6e4, 6e5, 6e6, 6e7, 6e8, 6e9, 6e10];
/** In the place of the number of a scale: every value is as predicted, nothing follows. */
const asPredicted = 254;
const sampled = 24;
/** Steps that cost as much as a value written out. */
const farAway = 2 ** 72;

function units(value: number, scale: number): number {
  // Adding 0 makes −0 to 0: the reader gets the unit as a sum, which is never −0.
  const unit = Math.round(value * scale) + 0;
  return Math.abs(unit) <= largestUnit ? unit : 0;
}

/** Bits that a value would take, roughly. */
function cost(value: number, predicted: number, scale: number): number {
  const unit = units(value, scale);
  const away = unit - units(predicted, scale);
  const steps = Math.abs(stepsBetween(away === 0 ? predicted : unit / scale, value));
  return Math.log2((1 + Math.abs(away)) * (steps > mostSteps ? farAway : 1 + steps));
}

/** Rows whose value is not as foretold, in order: the first `missedCount` of these. */
let missed = new Int32Array(0);
let missedCount = 0;

function findMissed(values: Float64Array, predicted: Float64Array): void {
  if (missed.length < values.length) missed = new Int32Array(values.length);
  missedCount = 0;
  for (let row = 0; row < values.length; row += 1) {
    if (same((values[row] ?? 0), (predicted[row] ?? 0))) continue;
    missed[missedCount] = row;
    missedCount += 1;
  }
}

function cheapestScale(values: Float64Array, predicted: Float64Array): number {
  // The first row is written out where it is missed, whatever the scale.
  const begin = missed[0] === 0 ? 1 : 0;
  if (missedCount === 0) return asPredicted;
  if (missedCount === begin) return 0;
  const stride = Math.max(1, Math.floor((missedCount - begin) / sampled));
  let best = 0;
  let least = Infinity;
  for (const [number, scale] of scales.entries()) {
    let sum = 0;
    for (let i = begin; i < missedCount && sum < least; i += stride) {
      const row = missed[i] ?? 0;
      sum += cost((values[row] ?? 0), (predicted[row] ?? 0), scale);
    }
    if (sum < least) [best, least] = [number, sum];
  }
  return best;
}

export function writeColumn(sink: ByteSink, values: Float64Array, expectation: Expectation): void {
  const count = values.length;
  const predicted = foretold(expectation, values);
  findMissed(values, predicted);
  const number = cheapestScale(values, predicted);
  sink.byte(number);
  if (number === asPredicted) return;
  const scale = scales[number] ?? 0;
  const away = newColumn(count);
  const beside = new Uint8Array(count);
  const outright: number[] = [];
  for (let i = 0; i < missedCount; i += 1) {
    const row = missed[i] ?? 0;
    const value = (values[row] ?? 0);
    const expectedValue = (predicted[row] ?? 0);
    const unit = units(value, scale);
    const distance = unit - units(expectedValue, scale);
    const base = distance === 0 ? expectedValue : unit / scale;
    const steps = stepsBetween(base, value);
    // The first one is often far from what is expected and would need planes of its own for all.
    if (row > 0 && Math.abs(steps) <= mostSteps && same(stepped(base, steps), value)) {
      away[row] = distance;
      beside[row] = folded(steps);
    } else {
      beside[row] = writtenCode;
      outright.push(value);
    }
  }
  if (scale > 0) writePlanes(sink, away);
  writePlane(sink, beside);
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
  if (count === 0) return () => 0;
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
  const scale = scaleOf(number);
  const away = scale > 0 ? readPlanes(source, count) : null;
  const beside = readPlane(source, count);
  const next = outrightReader(source, beside === null ? 0 : outrightCount(beside));
  /** A value that lies beside what its whole number gives. */
  const besides = (near: number, code: number): number => (code === writtenCode ? next() : stepped(near, unfolded(code)));

  const { begin, base, goesOn } = expectation;
  if (goesOn === false) {
    // Most values are as expected: take all of them over, then see to the others.
    const values = base === null ? bareColumn(count).fill(begin) : copied(base);
    if (away !== null) {
      for (let row = 0; row < count; row += 1) {
        const distance = away[row] ?? 0;
        if (distance !== 0) values[row] = (units(values[row] ?? 0, scale) + distance) / scale;
      }
    }
    if (beside !== null) {
      for (let row = 0; row < count; row += 1) {
        const code = beside[row] ?? 0;
        if (code !== 0) values[row] = besides(values[row] ?? 0, code);
      }
    }
    return values;
  }
  if (goesOn === true && base === null) return standingColumn(count, begin, scale, away, beside, besides);
  const values = bareColumn(count);
  let before = begin;
  for (let row = 0; row < count; row += 1) {
    const distance = away?.[row] ?? 0;
    const code = beside?.[row] ?? 0;
    let told = before;
    if (goesOn !== true) told = expected(expectation, row, values);
    else if (row > 0) told += base?.[row] ?? 0;
    // Written out here: as a call of its own it takes most of the time.
    if (distance !== 0) told = (units(told, scale) + distance) / scale;
    before = code === 0 ? told : besides(told, code);
    values[row] = before;
  }
  return values;
}

/**
 * A column in which a value stands until another one comes. Its whole number is gone on with from row to row, which saves
 * rounding it out of the value again.
 */
function standingColumn(
  count: number, begin: number, scale: number, away: Float64Array | null, beside: Uint8Array | null, besides: (near: number, code: number) => number,
): Float64Array {
  const values = bareColumn(count);
  let value = begin;
  let unit = units(begin, scale);
  for (let row = 0; row < count; row += 1) {
    const distance = away === null ? 0 : (away[row] ?? 0);
    if (distance !== 0) {
      unit += distance;
      value = unit / scale;
      if (Math.abs(unit) > surelyRegained) unit = units(value, scale);
    }
    const code = beside === null ? 0 : (beside[row] ?? 0);
    if (code !== 0) {
      value = besides(value, code);
      unit = units(value, scale);
    }
    values[row] = value;
  }
  return values;
}

/** Goes past a column that nobody wants, without working out what was expected of it. */
export function passColumn(source: ByteSource, count: number): void {
  const number = source.byte();
  if (number === asPredicted) return;
  if (scaleOf(number) > 0) passPlanes(source, count);
  const beside = readPlane(source, count);
  if (beside !== null) source.take(8 * outrightCount(beside));
}

function scaleOf(number: number): number {
  const scale = scales[number];
  if (scale === undefined) throw new Error(`packed rows are damaged: ${number} is no known way to write a column`);
  return scale;
}

function outrightCount(beside: Uint8Array): number {
  let outright = 0;
  for (let row = 0; row < beside.length; row += 1) if (beside[row] === writtenCode) outright += 1;
  return outright;
}

/** A column in which every value is as expected. */
function foreseen(count: number, { begin, base, goesOn }: Expectation): Float64Array {
  if (base === null) return bareColumn(count).fill(begin);
  if (goesOn === false) return base;
  const values = bareColumn(count);
  if (goesOn === true) {
    let sum = begin;
    values[0] = begin;
    for (let row = 1; row < count; row += 1) {
      sum += (base[row] ?? 0);
      values[row] = sum;
    }
    return values;
  }
  for (let row = 0; row < count; row += 1) values[row] = expected({ begin, base, goesOn }, row, values);
  return values;
}

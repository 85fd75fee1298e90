import { passPlanes, readPlane, readPlanes, unfolded } from './byte-planes.js';
import type { ByteSource } from './byte-sink.js';
import { asPredicted, fewFlag, scales, surelyRegained, units, writtenCode } from './column-format.js';
import { bareColumn, copied } from './column-room.js';
import { expected, type Expectation } from './expectation.js';
import { stepped } from './float-steps.js';

/** What is stored for the values that are not as expected; the whole numbers or bytes are absent where all of them are 0. */
interface Misses {
  readonly scale: number;
  /** One number for each row, or for each of the few values that are not as expected. */
  readonly away: Float64Array | null;
  readonly beside: Uint8Array | null;
  /** Gives the value for a code: a neighbour of `near`, or the next value that is written out. Calls must follow the order of the values. */
  readonly adjust: (near: number, code: number) => number;
}

/** Reads a column that was written as column-format.ts says. */
export function readColumn(source: ByteSource, count: number, expectation: Expectation): Float64Array {
  const number = source.byte();
  if (number === asPredicted) return foreseen(count, expectation);
  const scale = scaleOf(number);
  if (number < fewFlag) {
    const misses = readMisses(source, scale, count);
    const { begin, base, goesOn } = expectation;
    if (goesOn === false) return changed(base === null ? bareColumn(count).fill(begin) : copied(base), misses);
    return goesOn === true && base === null ? standingColumn(count, begin, misses) : onwardColumn(count, expectation, misses);
  }
  const few = source.byte();
  const rows = readPlanes(source, few);
  return fewChanged(count, expectation, few, rows, readMisses(source, scale, few));
}

/** Skips a column that nobody wants, without computing what was expected of it. */
export function passColumn(source: ByteSource, count: number): void {
  const number = source.byte();
  if (number === asPredicted) return;
  let places = count;
  if (number >= fewFlag) {
    places = source.byte();
    passPlanes(source, places);
  }
  if (scaleOf(number) > 0) passPlanes(source, places);
  const beside = readPlane(source, places);
  if (beside !== null) source.take(8 * outrightCount(beside));
}

function scaleOf(number: number): number {
  const scale = scales[number < fewFlag ? number : number - fewFlag];
  if (scale === undefined) throw new Error(`packed rows are damaged: ${number} is no known way to write a column`);
  return scale;
}

function readMisses(source: ByteSource, scale: number, places: number): Misses {
  const away = scale > 0 ? readPlanes(source, places) : null;
  const beside = readPlane(source, places);
  const next = outrightReader(source, beside === null ? 0 : outrightCount(beside));
  return { scale, away, beside, adjust: (near, code) => (code === writtenCode ? next() : stepped(near, unfolded(code))) };
}

function outrightCount(beside: Uint8Array): number {
  let outright = 0;
  for (let row = 0; row < beside.length; row += 1) if (beside[row] === writtenCode) outright += 1;
  return outright;
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

/** Reads a column whose expected values do not depend on earlier ones: it copies them and changes those that differ. */
function changed(values: Float64Array, { scale, away, beside, adjust }: Misses): Float64Array {
  if (away !== null) {
    for (let row = 0; row < values.length; row += 1) {
      const distance = away[row] ?? 0;
      if (distance !== 0) values[row] = (units(values[row] ?? 0, scale) + distance) / scale;
    }
  }
  if (beside !== null) {
    for (let row = 0; row < values.length; row += 1) {
      const code = beside[row] ?? 0;
      if (code !== 0) values[row] = adjust(values[row] ?? 0, code);
    }
  }
  return values;
}

/** Reads a column in which each value holds until it changes. Its whole number is carried from row to row, which saves rounding it again. */
function standingColumn(count: number, begin: number, { scale, away, beside, adjust }: Misses): Float64Array {
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
      value = adjust(value, code);
      unit = units(value, scale);
    }
    values[row] = value;
  }
  return values;
}

/** Reads a column whose expected values depend, in all rows or in some, on earlier values. */
function onwardColumn(count: number, expectation: Expectation, { scale, away, beside, adjust }: Misses): Float64Array {
  const { begin, base, goesOn } = expectation;
  const values = bareColumn(count);
  let before = begin;
  for (let row = 0; row < count; row += 1) {
    const distance = away === null ? 0 : (away[row] ?? 0);
    const code = beside === null ? 0 : (beside[row] ?? 0);
    let reconstructed = before;
    if (goesOn !== true) reconstructed = expected(expectation, row, values);
    else if (row > 0) reconstructed += base?.[row] ?? 0;
    // This is written out, since a function call here would take most of the time.
    if (distance !== 0) reconstructed = (units(reconstructed, scale) + distance) / scale;
    before = code === 0 ? reconstructed : adjust(reconstructed, code);
    values[row] = before;
  }
  return values;
}

/** Reads a column with only a few values that are not as expected: those in `rows`, or the first one alone where `rows` is null. */
function fewChanged(count: number, expectation: Expectation, few: number, rows: Float64Array | null, { scale, away, beside, adjust }: Misses): Float64Array {
  const { base, goesOn } = expectation;
  const values = goesOn === false && base !== null ? copied(base) : bareColumn(count);
  let from = 0;
  for (let place = 0; place < few; place += 1) {
    const row = rows === null ? 0 : (rows[place] ?? 0);
    if (!(row >= from && row < count)) throw new Error(`packed rows are damaged: row ${row} of ${count} is named behind row ${from - 1}`);
    goOn(values, from, row + 1, expectation);
    const distance = away === null ? 0 : (away[place] ?? 0);
    const code = beside === null ? 0 : (beside[place] ?? 0);
    let value = values[row] ?? 0;
    if (distance !== 0) value = (units(value, scale) + distance) / scale;
    values[row] = code === 0 ? value : adjust(value, code);
    from = row + 1;
  }
  goOn(values, from, count, expectation);
  return values;
}

/** Fills rows `from` to `to` with the expected values. */
function goOn(values: Float64Array, from: number, to: number, expectation: Expectation): void {
  const { begin, base, goesOn } = expectation;
  if (goesOn === false) {
    if (base === null) values.fill(begin, from, to);
    return;
  }
  if (goesOn === true && base === null) {
    values.fill(from === 0 ? begin : (values[from - 1] ?? 0), from, to);
    return;
  }
  if (goesOn !== true) {
    for (let row = from; row < to; row += 1) values[row] = expected(expectation, row, values);
    return;
  }
  let sum = from === 0 ? 0 : (values[from - 1] ?? 0);
  for (let row = from; row < to; row += 1) {
    sum = row === 0 ? begin : sum + (base?.[row] ?? 0);
    values[row] = sum;
  }
}

/** Makes a column in which every value is as expected. */
function foreseen(count: number, expectation: Expectation): Float64Array {
  if (expectation.goesOn === false && expectation.base !== null) return expectation.base;
  const values = bareColumn(count);
  goOn(values, 0, count, expectation);
  return values;
}

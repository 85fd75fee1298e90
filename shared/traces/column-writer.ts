import { folded, writePlane, writePlanes } from './byte-planes.js';
import type { ByteSink } from './byte-sink.js';
import { asPredicted, fewFlag, mostFew, mostSteps, scales, units, writtenCode } from './column-format.js';
import { newColumn } from './column-room.js';
import { predictedColumn, type Expectation } from './expectation.js';
import { stepped, stepsBetween } from './float-steps.js';
import { same } from './same-number.js';

const sampled = 24;
/** The number of steps that costs as much as a value written out. */
const farAway = 2 ** 72;

/** A rough number of bits that a value would take. */
function cost(value: number, predicted: number, scale: number): number {
  const unit = units(value, scale);
  const away = unit - units(predicted, scale);
  const steps = Math.abs(stepsBetween(away === 0 ? predicted : unit / scale, value));
  return Math.log2((1 + Math.abs(away)) * (steps > mostSteps ? farAway : 1 + steps));
}

/** The rows whose value is not as predicted, in order: the first `missedCount` entries are valid. */
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
  // If the first row is not as predicted, it is written out, whatever the scale.
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

/** Writes a column as column-format.ts says. */
export function writeColumn(sink: ByteSink, values: Float64Array, expectation: Expectation): void {
  const predicted = predictedColumn(expectation, values);
  findMissed(values, predicted);
  const number = cheapestScale(values, predicted);
  if (number === asPredicted) {
    sink.byte(asPredicted);
    return;
  }
  const scale = scales[number] ?? 0;
  const few = missedCount <= mostFew;
  const places = few ? missedCount : values.length;
  const away = newColumn(places);
  const beside = new Uint8Array(places);
  const outright: number[] = [];
  for (let i = 0; i < missedCount; i += 1) {
    const row = missed[i] ?? 0;
    const place = few ? i : row;
    const value = (values[row] ?? 0);
    const expectedValue = (predicted[row] ?? 0);
    const unit = units(value, scale);
    const distance = unit - units(expectedValue, scale);
    const base = distance === 0 ? expectedValue : unit / scale;
    const steps = stepsBetween(base, value);
    // The first value is often far from the expected one, and all values would then need more planes.
    if (row > 0 && Math.abs(steps) <= mostSteps && same(stepped(base, steps), value)) {
      away[place] = distance;
      beside[place] = folded(steps);
    } else {
      beside[place] = writtenCode;
      outright.push(value);
    }
  }
  sink.byte(few ? number + fewFlag : number);
  if (few) {
    sink.byte(missedCount);
    writePlanes(sink, Float64Array.from(missed.subarray(0, missedCount)));
  }
  if (scale > 0) writePlanes(sink, away);
  writePlane(sink, beside);
  writeOutright(sink, outright);
}

/** Writes the eight bytes of each value, with corresponding bytes side by side. The column itself shows how many values there are. */
function writeOutright(sink: ByteSink, values: readonly number[]): void {
  const bytes = new DataView(new ArrayBuffer(8));
  const room = sink.room(8 * values.length);
  for (const [place, value] of values.entries()) {
    bytes.setFloat64(0, value);
    for (let plane = 0; plane < 8; plane += 1) room[plane * values.length + place] = bytes.getUint8(plane);
  }
}

import { swings } from '../rows/alternating.js';
import type { Piece } from './arc-state.js';
import { arcColumn, arcColumns, arcRowFlags, columnOf, hasFlag, rowLength } from '../rows/row.js';
import { addRawVoltage, clearRawVoltage, joinRawVoltage, noRawVoltage } from '../rows/raw-voltage.js';
import { addItemColumns, clearSpreads, finishSpreads, joinSpreads } from '../rows/spread-sum.js';

/**
 * The row of an arc while its pieces are added, in order; `own` is its place in `rows`. Until the row is finished its `from` is the instant itself,
 * µs, and the mean of a quantity that is summed is its integral.
 */
export interface RowBuilder {
  readonly rows: Float64Array;
  readonly own: number;
  /** Stretches in which the arc was on, and in which it was in a data gap, µs; a stretch that continues the one before is joined to it. */
  readonly burning: [number, number][];
  readonly gaps: [number, number][];
}

export function startRow(rows: Float64Array, own: number): RowBuilder {
  clear(rows, own);
  return { rows, own, burning: [], gaps: [] };
}

function clear(rows: Float64Array, own: number): void {
  rows.fill(0, own, own + arcColumns.length);
  rows[own + arcColumn.from] = Number.NaN;
  rows[own + arcColumn.minCurrent] = Infinity;
  rows[own + arcColumn.maxCurrent] = -Infinity;
  rows[own + arcColumn.minVoltage] = Infinity;
  rows[own + arcColumn.maxVoltage] = -Infinity;
  rows[own + arcColumn.plateTemperature] = Number.NaN;
  clearRawVoltage(rows, own);
  clearSpreads(rows, own);
}

/** Adds the part `[from, to)` of a piece; `begins`: the piece begins in it. `litAt`: the arc was last lit then; an earlier event does not count. */
export function addPiece({ rows, own, burning, gaps }: RowBuilder, piece: Piece, from: number, to: number, begins: boolean, litAt: number): void {
  const dt = piece.part === null ? (to - from) / 1e6 : piece.part.time;
  if (piece.kind === 'gap') {
    add(rows, own + arcColumn.gap, dt);
    addStretch(gaps, from, to);
    return;
  }
  if (piece.kind === 'out') {
    setFlag(rows, own, arcRowFlags.out);
    return;
  }
  add(rows, own + arcColumn.covered, dt);
  const on = piece.kind === 'on';
  const burnt = hasFlag(rows, own, arcRowFlags.burning);
  const begun = !Number.isNaN(columnOf(rows, own, arcColumn.from));
  if (!on && burnt) return;
  if (on && !burnt && begun) forgetOff(rows, own);
  if (!begun || (on && !burnt)) rows[own + arcColumn.from] = from;
  if (on) {
    add(rows, own + arcColumn.on, dt);
    setFlag(rows, own, arcRowFlags.burning);
    if (piece.lit && begins) setFlag(rows, own, arcRowFlags.lit);
    addStretch(burning, from, to);
  }
  if (piece.part === null) addReading(rows, own, piece, dt, begins);
  else addPart(rows, own, piece.part, litAt);
}

/** Whether the arc sent anything in the row; if not, there is no row. */
export function isBegun({ rows, own }: RowBuilder): boolean {
  return columnOf(rows, own, arcColumn.covered) !== 0 || columnOf(rows, own, arcColumn.flags) !== 0;
}

function add(rows: Float64Array, place: number, more: number): void {
  rows[place] = columnOf(rows, place, 0) + more;
}

function setFlag(rows: Float64Array, own: number, flag: number): void {
  rows[own + arcColumn.flags] = columnOf(rows, own, arcColumn.flags) | flag;
}

function addStretch(stretches: [number, number][], from: number, to: number): void {
  const last = stretches[stretches.length - 1];
  if (last !== undefined && last[1] === from && to > from) last[1] = to;
  else stretches.push([from, to]);
}

/** Clears the sums of the time before the arc was on: once there is an arc-on part, the sums cover that alone. */
function forgetOff(rows: Float64Array, own: number): void {
  const covered = columnOf(rows, own, arcColumn.covered);
  const gap = columnOf(rows, own, arcColumn.gap);
  const out = columnOf(rows, own, arcColumn.flags) & arcRowFlags.out;
  clear(rows, own);
  rows[own + arcColumn.covered] = covered;
  rows[own + arcColumn.gap] = gap;
  rows[own + arcColumn.flags] = out;
}

function addReading(rows: Float64Array, own: number, { current, voltage, rawVoltage, item, plateTemperature }: Piece, dt: number, begins: boolean): void {
  if (begins) add(rows, own + arcColumn.samples, 1);
  // Power is multiplied sample by sample.
  addElectric(rows, own, current * dt, voltage * dt, voltage * current * dt, current * current * dt, voltage * voltage * dt, current > 0 ? dt : 0);
  // A value that held for no time (a last reading) is counted, but does not affect the extremes.
  if (dt > 0) widen(rows, own, current, current, voltage, voltage);
  if (!Number.isNaN(rawVoltage)) {
    const raw = noRawVoltage();
    addRawVoltage(raw, rawVoltage, dt);
    joinRawVoltage(rows, own, raw);
  }
  if (dt > 0 && item !== null) addItemColumns(rows, own, item, dt);
  if (!Number.isNaN(plateTemperature)) rows[own + arcColumn.plateTemperature] = plateTemperature;
  rows[own + arcColumn.extinctions] = Number.NaN;
  rows[own + arcColumn.shortCircuits] = Number.NaN;
  setFlag(rows, own, arcRowFlags.slow);
}

function addPart(rows: Float64Array, own: number, part: NonNullable<Piece['part']>, litAt: number): void {
  add(rows, own + arcColumn.samples, part.samples);
  addElectric(rows, own, part.current, part.voltage, part.energy, part.currentSquared, part.voltageSquared, part.positiveTime);
  widen(rows, own, part.minCurrent, part.maxCurrent, part.minVoltage, part.maxVoltage);
  if (part.raw !== null) joinRawVoltage(rows, own, part.raw);
  joinSpreads(rows, own, part.spreads);
  if (!Number.isNaN(part.temperature)) rows[own + arcColumn.plateTemperature] = part.temperature;
  add(rows, own + arcColumn.extinctions, part.showsExtinctions ? countAfter(part.extinctions, litAt) : Number.NaN);
  add(rows, own + arcColumn.shortCircuits, part.showsShortCircuits ? countAfter(part.shortCircuits, litAt) : Number.NaN);
  setFlag(rows, own, arcRowFlags.block | (part.slow ? arcRowFlags.slow : 0));
}

function countAfter(times: readonly number[], after: number): number {
  return times.filter((since) => since > after).length;
}

function addElectric(rows: Float64Array, own: number, current: number, voltage: number, energy: number, currentSquared: number, voltageSquared: number, positiveTime: number): void {
  add(rows, own + arcColumn.current, current);
  add(rows, own + arcColumn.voltage, voltage);
  add(rows, own + arcColumn.energy, energy);
  add(rows, own + arcColumn.currentSquared, currentSquared);
  add(rows, own + arcColumn.voltageSquared, voltageSquared);
  add(rows, own + arcColumn.positiveTime, positiveTime);
}

function widen(rows: Float64Array, own: number, minCurrent: number, maxCurrent: number, minVoltage: number, maxVoltage: number): void {
  if (minCurrent < columnOf(rows, own, arcColumn.minCurrent)) rows[own + arcColumn.minCurrent] = minCurrent;
  if (maxCurrent > columnOf(rows, own, arcColumn.maxCurrent)) rows[own + arcColumn.maxCurrent] = maxCurrent;
  if (minVoltage < columnOf(rows, own, arcColumn.minVoltage)) rows[own + arcColumn.minVoltage] = minVoltage;
  if (maxVoltage > columnOf(rows, own, arcColumn.maxVoltage)) rows[own + arcColumn.maxVoltage] = maxVoltage;
}

/** `length` and `travelled` come from the carriage's motion. */
export function finishRow({ rows, own }: RowBuilder, index: number, length: number, travelled: number): void {
  const from = columnOf(rows, own, arcColumn.from);
  const [minCurrent, maxCurrent] = [columnOf(rows, own, arcColumn.minCurrent), columnOf(rows, own, arcColumn.maxCurrent)];
  const oneSigned = (minCurrent >= 0 || maxCurrent <= 0) && (columnOf(rows, own, arcColumn.minVoltage) >= 0 || columnOf(rows, own, arcColumn.maxVoltage) <= 0);
  rows[own + arcColumn.index] = index;
  rows[own + arcColumn.from] = Number.isNaN(from) ? 0 : from - index * rowLength;
  // An arc consumes energy, whatever the sign with which an electrode-negative current is sent.
  if (oneSigned) rows[own + arcColumn.energy] = Math.abs(columnOf(rows, own, arcColumn.energy));
  rows[own + arcColumn.length] = length;
  rows[own + arcColumn.travelled] = travelled;
  if (swings(minCurrent, maxCurrent)) setFlag(rows, own, arcRowFlags.alternating);
  finishSpreads(rows, own);
}

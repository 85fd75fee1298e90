import { arcColumn, columnOf } from './row.js';

/** Voltage as it was sent, before it was corrected for the cable: V·s, V²·s, least and greatest. */
export interface RawVoltage {
  sum: number;
  squared: number;
  min: number;
  max: number;
}

export function noRawVoltage(): RawVoltage {
  return { sum: 0, squared: 0, min: Infinity, max: -Infinity };
}

/** Adds a value that was sent for `dt` s; one that held for no time does not affect the extremes. */
export function addRawVoltage(raw: RawVoltage, voltage: number, dt: number): void {
  raw.sum += voltage * dt;
  raw.squared += voltage * voltage * dt;
  if (dt > 0) widen(raw, voltage, voltage);
}

function widen(raw: RawVoltage, min: number, max: number): void {
  if (min < raw.min) raw.min = min;
  if (max > raw.max) raw.max = max;
}

const { rawVoltage, rawVoltageSquared, minRawVoltage, maxRawVoltage } = arcColumn;

/** A row in which nothing was corrected has no raw voltage. */
export function clearRawVoltage(rows: Float64Array, own: number): void {
  for (const column of [rawVoltage, rawVoltageSquared, minRawVoltage, maxRawVoltage]) rows[own + column] = Number.NaN;
}

/** Adds what was sent in a part of a row. */
export function joinRawVoltage(rows: Float64Array, own: number, more: Readonly<RawVoltage>): void {
  const joined = Number.isNaN(columnOf(rows, own, rawVoltage)) ? noRawVoltage() : rawVoltageOf(rows, own);
  widen(joined, more.min, more.max);
  rows[own + rawVoltage] = joined.sum + more.sum;
  rows[own + rawVoltageSquared] = joined.squared + more.squared;
  rows[own + minRawVoltage] = joined.min;
  rows[own + maxRawVoltage] = joined.max;
}

/** Adds a row to sums over rows: they are NaN once a row was not corrected, and in runs in which none was. */
export function addRawColumns(raw: RawVoltage, rows: Float64Array, own: number): void {
  const { sum, squared, min, max } = rawVoltageOf(rows, own);
  raw.sum += sum;
  raw.squared += squared;
  widen(raw, min, max);
}

function rawVoltageOf(rows: Float64Array, own: number): RawVoltage {
  return { sum: columnOf(rows, own, rawVoltage), squared: columnOf(rows, own, rawVoltageSquared), min: columnOf(rows, own, minRawVoltage), max: columnOf(rows, own, maxRawVoltage) };
}

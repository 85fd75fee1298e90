import { swings } from './alternating.js';
import type { Piece } from './arc-state.js';
import type { ElectricSums } from './electric-sums.js';
import { addSample, addSums } from './electric-sums.js';
import { arcColumn, arcRowFlags, rowLength } from './row.js';
import type { SpreadSum } from './spread-sum.js';
import { addItemValues, joinSpreads, noSpreads, putSpreads } from './spread-sum.js';

/** A row of one arc while its pieces are added, in order. */
export interface RowBuilder extends ElectricSums {
  first: number;
  covered: number;
  on: number;
  gap: number;
  samples: number;
  spreads: SpreadSum[];
  temperature: number;
  extinctions: number;
  shortCircuits: number;
  flags: number;
  /** Stretches in which the arc was on, and in which it was in a data gap, µs; what follows on joins the one before. */
  burning: [number, number][];
  gaps: [number, number][];
}

export function startRow(): RowBuilder {
  // Field by field: a row is begun for every reading.
  return {
    current: 0, voltage: 0, energy: 0, currentSquared: 0, voltageSquared: 0,
    minCurrent: Infinity, maxCurrent: -Infinity, minVoltage: Infinity, maxVoltage: -Infinity,
    first: Number.NaN, covered: 0, on: 0, gap: 0, samples: 0,
    spreads: noSpreads(), temperature: Number.NaN, extinctions: 0, shortCircuits: 0, flags: 0, burning: [], gaps: [],
  };
}

/**
 * Adds the part `[from, to)` of a piece; `begins` where the piece begins in it. `litAt` is when the arc was lit last:
 * what began before is no event of this burning.
 */
export function addPiece(row: RowBuilder, piece: Piece, from: number, to: number, begins: boolean, litAt: number): void {
  const dt = piece.part === null ? (to - from) / 1e6 : piece.part.time;
  if (piece.kind === 'gap') {
    row.gap += dt;
    addStretch(row.gaps, from, to);
    return;
  }
  if (piece.kind === 'out') {
    row.flags |= arcRowFlags.out;
    return;
  }
  row.covered += dt;
  const on = piece.kind === 'on';
  if (on && (row.flags & arcRowFlags.burning) === 0 && !Number.isNaN(row.first)) forgetOff(row, from);
  else if (!on && (row.flags & arcRowFlags.burning) !== 0) return;
  if (Number.isNaN(row.first)) row.first = from;
  if (on) {
    row.on += dt;
    row.flags |= arcRowFlags.burning;
    if (piece.lit && begins) row.flags |= arcRowFlags.lit;
    addStretch(row.burning, from, to);
  }
  if (piece.part === null) addReading(row, piece, dt, begins);
  else addPart(row, piece.part, litAt);
}

function addStretch(stretches: [number, number][], from: number, to: number): void {
  const last = stretches[stretches.length - 1];
  if (last !== undefined && last[1] === from && to > from) last[1] = to;
  else stretches.push([from, to]);
}

/** The row's sums are those of the arc-on part alone, once there is one. */
function forgetOff(row: RowBuilder, from: number): void {
  const { covered, flags, gap, gaps } = row;
  Object.assign(row, startRow(), { covered, flags: flags & arcRowFlags.out, gap, gaps, first: from });
}

function addReading(row: RowBuilder, piece: Piece, dt: number, begins: boolean): void {
  const { current, voltage } = piece;
  if (begins) row.samples += 1;
  addSample(row, current, voltage, dt);
  if (dt > 0 && piece.item !== null) addItemValues(row.spreads, piece.item, 0, dt);
  if (!Number.isNaN(piece.plateTemperature)) row.temperature = piece.plateTemperature;
  row.extinctions = Number.NaN;
  row.shortCircuits = Number.NaN;
  row.flags |= arcRowFlags.slow;
}

function addPart(row: RowBuilder, part: NonNullable<Piece['part']>, litAt: number): void {
  row.samples += part.samples;
  addSums(row, part);
  joinSpreads(row.spreads, part.spreads);
  if (!Number.isNaN(part.temperature)) row.temperature = part.temperature;
  row.extinctions = part.showsExtinctions ? row.extinctions + part.extinctions.filter((since) => since > litAt).length : Number.NaN;
  row.shortCircuits = part.showsShortCircuits ? row.shortCircuits + part.shortCircuits.filter((since) => since > litAt).length : Number.NaN;
  row.flags |= arcRowFlags.block;
  if (part.slow) row.flags |= arcRowFlags.slow;
}

/** Writes the finished row at its place. `length` and `travelled` come from the carriage's motion. */
export function finishRow(row: RowBuilder, rows: Float64Array, own: number, index: number, length: number, travelled: number): void {
  const alternating = swings(row.minCurrent, row.maxCurrent);
  const oneSigned = (row.minCurrent >= 0 || row.maxCurrent <= 0) && (row.minVoltage >= 0 || row.maxVoltage <= 0);
  rows[own + arcColumn.index] = index;
  rows[own + arcColumn.from] = Number.isNaN(row.first) ? 0 : row.first - index * rowLength;
  rows[own + arcColumn.covered] = row.covered;
  rows[own + arcColumn.on] = row.on;
  rows[own + arcColumn.gap] = row.gap;
  rows[own + arcColumn.samples] = row.samples;
  rows[own + arcColumn.current] = row.current;
  rows[own + arcColumn.voltage] = row.voltage;
  // An arc takes energy in, whatever sign an electrode-negative current is sent with.
  rows[own + arcColumn.energy] = oneSigned ? Math.abs(row.energy) : row.energy;
  rows[own + arcColumn.currentSquared] = row.currentSquared;
  rows[own + arcColumn.voltageSquared] = row.voltageSquared;
  rows[own + arcColumn.minCurrent] = row.minCurrent;
  rows[own + arcColumn.maxCurrent] = row.maxCurrent;
  rows[own + arcColumn.minVoltage] = row.minVoltage;
  rows[own + arcColumn.maxVoltage] = row.maxVoltage;
  rows[own + arcColumn.length] = length;
  rows[own + arcColumn.travelled] = travelled;
  rows[own + arcColumn.plateTemperature] = row.temperature;
  rows[own + arcColumn.extinctions] = row.extinctions;
  rows[own + arcColumn.shortCircuits] = row.shortCircuits;
  rows[own + arcColumn.flags] = row.flags | (alternating ? arcRowFlags.alternating : 0);
  putSpreads(rows, own, row.spreads);
}

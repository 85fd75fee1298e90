import type { SpreadColumn } from '../weld/quantities.js';
import type { ArcRow, RunRow } from '../weld/row.js';
import { laterColumns, laterSpreads } from './later-columns.js';

/** The first columns of an arc's row, in the order in which plain rows are written: stored rows depend on it. */
const firstColumns = [
  'index', 'from', 'covered', 'on', 'gap', 'samples', 'current', 'voltage', 'energy', 'currentSquared', 'voltageSquared',
  'minCurrent', 'maxCurrent', 'minVoltage', 'maxVoltage', 'length', 'travelled', 'wireFeedSpeed', 'feedTime', 'feedSquared',
  'minFeed', 'maxFeed', 'plateTemperature', 'extinctions', 'shortCircuits', 'flags',
] as const satisfies readonly (keyof ArcRow)[];
export type FirstColumn = (typeof firstColumns)[number];

/** All columns of an arc's row in the order in which plain rows are written. Append only, each addition with a format below. */
export const arcColumns: readonly (keyof ArcRow)[] = [...firstColumns, ...laterColumns.map(([name]) => name)];

/** The same for a run's row. */
export const runColumns = [
  'index', 'from', 'on', 'gap', 'length', 'gapLength', 'travelled', 'advance', 'speedTime', 'speed', 'speedSquared',
  'minSpeed', 'maxSpeed', 'travelSpeed', 'flags',
] as const satisfies readonly (keyof RunRow)[];

/** A format of plain rows (plain-rows.ts). */
export interface PlainFormat<Name extends string> {
  /** It has so many of the columns, the first ones. */
  readonly width: number;
  /** What the row of an earlier format gives for each column that came with this one: as where the quantity is not sent. */
  readonly before: Readonly<Partial<Record<Name, number>>>;
}

/** From format 1 on, of which rows are that name none; the last one is written. */
export const arcFormats: readonly PlainFormat<keyof ArcRow>[] = [
  { width: firstColumns.length, before: {} },
  ...laterSpreads.map((added, at) => ({ width: firstColumns.length + added.length * (at + 1), before: Object.fromEntries(added) })),
];
export const runFormats: readonly PlainFormat<keyof RunRow>[] = [{ width: 15, before: {} }];

export type Columns<Name extends string> = Readonly<Record<Name, Float64Array>>;
export type ArcColumns = Columns<keyof ArcRow>;
export type RunColumns = Columns<keyof RunRow>;

/**
 * A column's value; NaN behind its end. That is asked for first, since one look outside an array makes the engine box every number that is
 * read in this place from then on, which is ten times slower.
 */
export function at(column: Float64Array, row: number): number {
  if (row >= column.length) return Number.NaN;
  return column[row] ?? Number.NaN;
}

/** One row of an arc out of its columns. Written out, since rows built by name in a loop are read ten times slower. */
export function arcRowAt(c: ArcColumns, row: number): ArcRow {
  const first: Record<FirstColumn, number> = {
    index: at(c.index, row),
    from: at(c.from, row),
    covered: at(c.covered, row),
    on: at(c.on, row),
    gap: at(c.gap, row),
    samples: at(c.samples, row),
    current: at(c.current, row),
    voltage: at(c.voltage, row),
    energy: at(c.energy, row),
    currentSquared: at(c.currentSquared, row),
    voltageSquared: at(c.voltageSquared, row),
    minCurrent: at(c.minCurrent, row),
    maxCurrent: at(c.maxCurrent, row),
    minVoltage: at(c.minVoltage, row),
    maxVoltage: at(c.maxVoltage, row),
    length: at(c.length, row),
    travelled: at(c.travelled, row),
    wireFeedSpeed: at(c.wireFeedSpeed, row),
    feedTime: at(c.feedTime, row),
    feedSquared: at(c.feedSquared, row),
    minFeed: at(c.minFeed, row),
    maxFeed: at(c.maxFeed, row),
    plateTemperature: at(c.plateTemperature, row),
    extinctions: at(c.extinctions, row),
    shortCircuits: at(c.shortCircuits, row),
    flags: at(c.flags, row),
  };
  return withLater(first, (name) => at(c[name], row));
}

/** Adds the later columns to the first ones of a row, or of many. */
export function withLater<Value>(first: Record<FirstColumn, Value>, valueOf: (name: SpreadColumn, before: number) => Value): Record<keyof ArcRow, Value> {
  const whole: Partial<Record<keyof ArcRow, Value>> = first;
  for (const [name, before] of laterColumns) whole[name] = valueOf(name, before);
  return whole as Record<keyof ArcRow, Value>;
}

/** The same for a run's row. */
export function runRowAt(c: RunColumns, row: number): RunRow {
  return {
    index: at(c.index, row),
    from: at(c.from, row),
    on: at(c.on, row),
    gap: at(c.gap, row),
    length: at(c.length, row),
    gapLength: at(c.gapLength, row),
    travelled: at(c.travelled, row),
    advance: at(c.advance, row),
    speedTime: at(c.speedTime, row),
    speed: at(c.speed, row),
    speedSquared: at(c.speedSquared, row),
    minSpeed: at(c.minSpeed, row),
    maxSpeed: at(c.maxSpeed, row),
    travelSpeed: at(c.travelSpeed, row),
    flags: at(c.flags, row),
  };
}

/** Puts one row's numbers side by side, in the order of `arcColumns`; written out for the same reason. */
export function putArcRow(values: Float64Array, place: number, row: ArcRow): void {
  values[place] = row.index;
  values[place + 1] = row.from;
  values[place + 2] = row.covered;
  values[place + 3] = row.on;
  values[place + 4] = row.gap;
  values[place + 5] = row.samples;
  values[place + 6] = row.current;
  values[place + 7] = row.voltage;
  values[place + 8] = row.energy;
  values[place + 9] = row.currentSquared;
  values[place + 10] = row.voltageSquared;
  values[place + 11] = row.minCurrent;
  values[place + 12] = row.maxCurrent;
  values[place + 13] = row.minVoltage;
  values[place + 14] = row.maxVoltage;
  values[place + 15] = row.length;
  values[place + 16] = row.travelled;
  values[place + 17] = row.wireFeedSpeed;
  values[place + 18] = row.feedTime;
  values[place + 19] = row.feedSquared;
  values[place + 20] = row.minFeed;
  values[place + 21] = row.maxFeed;
  values[place + 22] = row.plateTemperature;
  values[place + 23] = row.extinctions;
  values[place + 24] = row.shortCircuits;
  values[place + 25] = row.flags;
  let next = place + firstColumns.length;
  for (const [name] of laterColumns) {
    values[next] = row[name];
    next += 1;
  }
}

export function putRunRow(values: Float64Array, place: number, row: RunRow): void {
  values[place] = row.index;
  values[place + 1] = row.from;
  values[place + 2] = row.on;
  values[place + 3] = row.gap;
  values[place + 4] = row.length;
  values[place + 5] = row.gapLength;
  values[place + 6] = row.travelled;
  values[place + 7] = row.advance;
  values[place + 8] = row.speedTime;
  values[place + 9] = row.speed;
  values[place + 10] = row.speedSquared;
  values[place + 11] = row.minSpeed;
  values[place + 12] = row.maxSpeed;
  values[place + 13] = row.travelSpeed;
  values[place + 14] = row.flags;
}

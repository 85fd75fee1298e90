import type { SentValues } from './item.js';
import { valueAt } from './item.js';
import type { SpreadColumn, SpreadName } from './quantities.js';
import { quantities, spreadNames } from './quantities.js';
import { recordOf } from './record-of.js';

/** A quantity that was sent, over time: s, its integral and that of its square, least and greatest. */
export interface SpreadSum {
  time: number;
  sum: number;
  squared: number;
  min: number;
  max: number;
}

export function noSpread(): SpreadSum {
  return { time: 0, sum: 0, squared: 0, min: Infinity, max: -Infinity };
}

/** One of each quantity that is summed so, in the order of `spreadNames`. */
export function noSpreads(): SpreadSum[] {
  const spreads: SpreadSum[] = [];
  for (let k = 0; k < spreadNames.length; k += 1) spreads.push(noSpread());
  return spreads;
}

export function spreadOf(spreads: readonly SpreadSum[], name: SpreadName): SpreadSum {
  return spreads[spreadNames.indexOf(name)] ?? noSpread();
}

export function cloneSpreads(spreads: readonly SpreadSum[]): SpreadSum[] {
  return spreads.map((own) => ({ ...own }));
}

/** Adds a value that stood for `dt` s. */
export function addValue(spread: SpreadSum, value: number, dt: number): void {
  spread.time += dt;
  spread.sum += value * dt;
  spread.squared += value * value * dt;
  if (value < spread.min) spread.min = value;
  if (value > spread.max) spread.max = value;
}

/** Adds what an item sends with its `k`-th sample, which stood for `dt` s. */
export function addItemValues(spreads: readonly SpreadSum[], item: SentValues, k: number, dt: number): void {
  for (let of = 0; of < spreadNames.length; of += 1) {
    const name = spreadNames[of];
    const spread = spreads[of];
    const values = name === undefined ? null : item[name];
    if (values !== null && spread !== undefined) addValue(spread, valueAt(values, k), dt);
  }
}

function joinSpread(spread: SpreadSum, more: Readonly<SpreadSum>): void {
  spread.time += more.time;
  spread.sum += more.sum;
  spread.squared += more.squared;
  if (more.min < spread.min) spread.min = more.min;
  if (more.max > spread.max) spread.max = more.max;
}

export function joinSpreads(spreads: readonly SpreadSum[], more: readonly Readonly<SpreadSum>[]): void {
  for (let k = 0; k < spreads.length; k += 1) {
    const own = spreads[k];
    const other = more[k];
    if (own !== undefined && other !== undefined) joinSpread(own, other);
  }
}

type Columns = Readonly<Record<SpreadColumn, number>>;
type ColumnNames = Readonly<Record<'mean' | 'time' | 'squared' | 'min' | 'max', SpreadColumn>>;

/** The columns of each quantity. */
export const columnsOf: Readonly<Record<SpreadName, ColumnNames>> = recordOf(spreadNames, (name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return { mean, time, squared, min, max };
});
const columnsInOrder = spreadNames.map((name) => columnsOf[name]);

/** The columns of a row. */
export function spreadColumns(spreads: readonly SpreadSum[]): Columns {
  const columns: Partial<Record<SpreadColumn, number>> = {};
  putSpreads(columns, spreads);
  return columns as Columns;
}

/** Puts them into a row that is being made. */
export function putSpreads(row: Partial<Record<SpreadColumn, number>>, spreads: readonly SpreadSum[]): void {
  for (let k = 0; k < columnsInOrder.length; k += 1) {
    const names = columnsInOrder[k];
    const own = spreads[k];
    if (names === undefined || own === undefined) continue;
    const known = own.time > 0;
    row[names.mean] = known ? own.sum / own.time : Number.NaN;
    row[names.time] = own.time;
    row[names.squared] = own.squared;
    row[names.min] = known ? own.min : Number.NaN;
    row[names.max] = known ? own.max : Number.NaN;
  }
}

/** Adds what the columns of a row hold. */
export function addColumns(spreads: readonly SpreadSum[], row: Columns): void {
  for (let k = 0; k < columnsInOrder.length; k += 1) {
    const names = columnsInOrder[k];
    const own = spreads[k];
    if (names === undefined || own === undefined) continue;
    const time = row[names.time];
    if (time > 0) joinSpread(own, { time, sum: row[names.mean] * time, squared: row[names.squared], min: row[names.min], max: row[names.max] });
  }
}

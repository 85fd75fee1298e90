import { valueAt, type SentValues } from '../items/item.js';
import { quantities, spreadNames, type SpreadName } from '../quantities.js';
import { recordOf } from './record-of.js';
import { arcColumn, columnOf } from './row.js';

/** A quantity that was sent, summed over time: the time in s, the integrals of the value and of its square, least and greatest value. */
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

/** An empty sum for each quantity, in the order of `spreadNames`. */
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

/** Adds a value that held for `dt` s. */
export function addValue(spread: SpreadSum, value: number, dt: number): void {
  spread.time += dt;
  spread.sum += value * dt;
  spread.squared += value * value * dt;
  if (value < spread.min) spread.min = value;
  if (value > spread.max) spread.max = value;
}

/** Adds the values of an item's `k`-th sample, which held for `dt` s. */
export function addItemValues(spreads: readonly SpreadSum[], item: SentValues, k: number, dt: number): void {
  for (let of = 0; of < spreadNames.length; of += 1) {
    const name = spreadNames[of];
    const spread = spreads[of];
    const values = name === undefined ? null : item[name];
    if (values !== null && spread !== undefined) addValue(spread, valueAt(values, k), dt);
  }
}

type SpreadPlaces = Readonly<Record<'mean' | 'time' | 'squared' | 'min' | 'max', number>>;

/** The columns of each quantity in the row of an arc. */
export const spreadColumn: Readonly<Record<SpreadName, SpreadPlaces>> = recordOf(spreadNames, (name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return { mean: arcColumn[mean], time: arcColumn[time], squared: arcColumn[squared], min: arcColumn[min], max: arcColumn[max] };
});
const inOrder = spreadNames.map((name) => spreadColumn[name]);

/** Sets up the columns of a row that is being made and is all 0: until the row is finished, the mean is the integral. */
export function clearSpreads(rows: Float64Array, own: number): void {
  for (const { min, max } of inOrder) {
    rows[own + min] = Infinity;
    rows[own + max] = -Infinity;
  }
}

/** Adds the values of a reading, which held for `dt` s, to the columns. */
export function addItemColumns(rows: Float64Array, own: number, item: SentValues, dt: number): void {
  for (let k = 0; k < inOrder.length; k += 1) {
    const name = spreadNames[k];
    const places = inOrder[k];
    const values = name === undefined ? null : item[name];
    if (values === null || places === undefined) continue;
    const value = valueAt(values, 0);
    joinColumns(rows, own, places, { time: dt, sum: value * dt, squared: value * value * dt, min: value, max: value });
  }
}

export function joinSpreads(rows: Float64Array, own: number, spreads: readonly SpreadSum[]): void {
  for (let k = 0; k < inOrder.length; k += 1) {
    const places = inOrder[k];
    const more = spreads[k];
    if (places !== undefined && more !== undefined) joinColumns(rows, own, places, more);
  }
}

function joinColumns(rows: Float64Array, own: number, { mean, time, squared, min, max }: SpreadPlaces, more: Readonly<SpreadSum>): void {
  rows[own + mean] = columnOf(rows, own, mean) + more.sum;
  rows[own + time] = columnOf(rows, own, time) + more.time;
  rows[own + squared] = columnOf(rows, own, squared) + more.squared;
  if (more.min < columnOf(rows, own, min)) rows[own + min] = more.min;
  if (more.max > columnOf(rows, own, max)) rows[own + max] = more.max;
}

export function finishSpreads(rows: Float64Array, own: number): void {
  for (const { mean, time, min, max } of inOrder) {
    const known = columnOf(rows, own, time);
    rows[own + mean] = known > 0 ? columnOf(rows, own, mean) / known : Number.NaN;
    if (known > 0) continue;
    rows[own + min] = Number.NaN;
    rows[own + max] = Number.NaN;
  }
}

/** Adds the columns of an arc's row to the sums. */
export function addColumns(spreads: readonly SpreadSum[], rows: Float64Array, own: number): void {
  for (let k = 0; k < inOrder.length; k += 1) {
    const places = inOrder[k];
    const spread = spreads[k];
    if (places === undefined || spread === undefined) continue;
    const time = columnOf(rows, own, places.time);
    if (!(time > 0)) continue;
    const min = columnOf(rows, own, places.min);
    const max = columnOf(rows, own, places.max);
    spread.time += time;
    spread.sum += columnOf(rows, own, places.mean) * time;
    spread.squared += columnOf(rows, own, places.squared);
    if (min < spread.min) spread.min = min;
    if (max > spread.max) spread.max = max;
  }
}

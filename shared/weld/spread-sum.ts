import type { SentValues } from './item.js';
import { valueAt } from './item.js';
import type { SpreadName } from './quantities.js';
import { quantities, spreadNames } from './quantities.js';
import { recordOf } from './record-of.js';
import { arcColumn, columnOf } from './row.js';

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

/** The columns of each quantity in the row of an arc. */
export const spreadColumn = recordOf(spreadNames, (name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return { mean: arcColumn[mean], time: arcColumn[time], squared: arcColumn[squared], min: arcColumn[min], max: arcColumn[max] };
});
const inOrder = spreadNames.map((name) => spreadColumn[name]);

/** Puts them into the row of an arc. */
export function putSpreads(rows: Float64Array, own: number, spreads: readonly SpreadSum[]): void {
  for (let k = 0; k < inOrder.length; k += 1) {
    const places = inOrder[k];
    const spread = spreads[k];
    if (places === undefined || spread === undefined) continue;
    const known = spread.time > 0;
    rows[own + places.mean] = known ? spread.sum / spread.time : Number.NaN;
    rows[own + places.time] = spread.time;
    rows[own + places.squared] = spread.squared;
    rows[own + places.min] = known ? spread.min : Number.NaN;
    rows[own + places.max] = known ? spread.max : Number.NaN;
  }
}

/** Adds what the columns of an arc's row hold. */
export function addColumns(spreads: readonly SpreadSum[], rows: Float64Array, own: number): void {
  for (let k = 0; k < inOrder.length; k += 1) {
    const places = inOrder[k];
    const spread = spreads[k];
    if (places === undefined || spread === undefined) continue;
    const time = columnOf(rows, own, places.time);
    if (!(time > 0)) continue;
    joinSpread(spread, {
      time, sum: columnOf(rows, own, places.mean) * time, squared: columnOf(rows, own, places.squared),
      min: columnOf(rows, own, places.min), max: columnOf(rows, own, places.max),
    });
  }
}

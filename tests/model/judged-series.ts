import type { SpreadColumn } from '../../shared/weld/quantities.js';
import { quantities, spreadNames } from '../../shared/weld/quantities.js';
import { arcRowFlags } from '../../shared/weld/rows/row.js';
import type { ArcWindowName, Judged, ZonedRow } from './window-types.js';
import { sum, weigh, type Weighted } from './weighted.js';
import type { ArcRow } from '../named-rows.js';

const rowTime = 100_000;
/** Running variation is computed over the last 10 s (rules, section 5). */
const variationTime = 10_000_000;

/** The mean and time columns of a quantity that is summed as it was sent. */
function spreadColumnsOf(quantity: ArcWindowName): readonly [SpreadColumn, SpreadColumn] | null {
  const name = spreadNames.find((own) => own === quantity);
  return name === undefined ? null : [quantities[name].spread[0], quantities[name].spread[1]];
}

interface RowValue extends Weighted {
  readonly row: ZonedRow;
  readonly burn: number;
  readonly weld: boolean;
}

/** The value of a quantity in a row and its time; AC arcs by the RMS of the row. */
function valueOf(quantity: ArcWindowName, row: ArcRow): Weighted {
  const columns = spreadColumnsOf(quantity);
  if (columns !== null) return { value: row[columns[0]], weight: row[columns[1]] };
  const alternating = (row.flags & arcRowFlags.alternating) !== 0;
  const current = quantity.startsWith('current');
  const squared = current ? row.currentSquared : row.voltageSquared;
  const plain = current ? row.current : row.voltage;
  const mean = alternating ? Math.sqrt(squared / row.on) : plain / row.on;
  // Windows have no sign, so the sign of an electrode-negative current is dropped, row by row.
  return { value: quantity.endsWith('Variation') ? mean : Math.abs(mean), weight: row.on };
}

/** Every row in which the arc burnt and sent; a row without the quantity has no weight. */
function arcValues(rows: readonly ZonedRow[], arc: number, quantity: ArcWindowName): RowValue[] {
  return rows.flatMap((row) => {
    const own = row.group.arcs.find((entry) => entry.arc === arc)?.row;
    const share = row.arcs.get(arc);
    if (own === undefined || share === undefined || share.burn < 0 || own.on <= 0) return [];
    return [{ row, burn: share.burn, weld: row.run.weld && share.weld, ...valueOf(quantity, own) }];
  });
}

/** Mean over `smoothing` s centred on the row's middle; rows half inside count half, rows of another burning of the run not at all. */
function smoothed(values: readonly RowValue[], smoothing: number): Judged[] {
  return values.flatMap((at) => {
    if (!at.weld) return [];
    if (smoothing === 0) return at.weight > 0 ? [{ row: at.row, value: at.value }] : [];
    const middle = at.row.start + rowTime / 2;
    const from = middle - smoothing * 500_000;
    const to = middle + smoothing * 500_000;
    const near = values.filter((other) => other.row.run.burn === at.row.run.burn && other.row.start + rowTime > from && other.row.start < to);
    const inside = near.map((other) => ({ value: other.value, weight: (other.weight * (Math.min(to, other.row.start + rowTime) - Math.max(from, other.row.start))) / rowTime }));
    const mean = weigh(inside)?.mean;
    return mean === undefined ? [] : [{ row: at.row, value: mean }];
  });
}

/** Standard deviation over mean of the last 10 s, the row itself included. */
function varying(values: readonly RowValue[], rows: readonly ZonedRow[], arc: number, quantity: ArcWindowName): Judged[] {
  const moments = values.map((at) => {
    const own = rows.find((row) => row === at.row)?.group.arcs.find((entry) => entry.arc === arc)?.row;
    const alternating = own === undefined || (own.flags & arcRowFlags.alternating) !== 0;
    // within a row that is not alternating, every sample counts, not only the row's mean
    const square = alternating ? at.value ** 2 * at.weight : quantity === 'currentVariation' ? own.currentSquared : own.voltageSquared;
    return { at, square };
  });
  return moments.flatMap(({ at }) => {
    if (!at.weld) return [];
    const last = moments.filter(({ at: other }) => other.row.start <= at.row.start && other.row.start > at.row.start - variationTime);
    const time = sum(last.map((entry) => entry.at.weight));
    const mean = sum(last.map((entry) => entry.at.value * entry.at.weight)) / time;
    const variance = sum(last.map((entry) => entry.square)) / time - mean ** 2;
    return mean === 0 ? [] : [{ row: at.row, value: Math.sqrt(Math.max(0, variance)) / Math.abs(mean) }];
  });
}

/** The judged values of one quantity of one arc, in order. */
export function arcSeries(rows: readonly ZonedRow[], arc: number, quantity: ArcWindowName, smoothing: number): Judged[] {
  const values = arcValues(rows, arc, quantity);
  return quantity.endsWith('Variation') ? varying(values, rows, arc, quantity) : smoothed(values, smoothing);
}

/** The judged travel speeds of the run. */
export function speedSeries(rows: readonly ZonedRow[], smoothing: number): Judged[] {
  const values = rows.flatMap((row) => {
    const { on, speedTime, speed } = row.group.run;
    return on > 0 && row.run.burn >= 0 ? [{ row, ...row.run, value: speed / speedTime, weight: speedTime }] : [];
  });
  return smoothed(values, smoothing);
}

import { meanOrRms } from '../rows/alternating.js';
import { arcColumn, columnOf } from '../rows/row.js';

/** ∫ of the judged value over an arc's row: the RMS of the row for an alternating arc, else its mean. */
export function judgedIntegral(rows: Float64Array, own: number, quantity: 'current' | 'voltage'): number {
  const integral = columnOf(rows, own, quantity === 'current' ? arcColumn.current : arcColumn.voltage);
  const squared = columnOf(rows, own, quantity === 'current' ? arcColumn.currentSquared : arcColumn.voltageSquared);
  return meanOrRms(columnOf(rows, own, arcColumn.flags), integral, squared, columnOf(rows, own, arcColumn.on));
}

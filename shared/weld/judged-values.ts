import { arcColumn, arcRowFlags, columnOf, hasFlag } from './row.js';

/** ∫ over an arc's row of what is judged: an alternating arc by the RMS of the row, any other by its mean. */
export function judgedIntegral(rows: Float64Array, own: number, quantity: 'current' | 'voltage'): number {
  if (!hasFlag(rows, own, arcRowFlags.alternating)) return columnOf(rows, own, quantity === 'current' ? arcColumn.current : arcColumn.voltage);
  return Math.sqrt(columnOf(rows, own, quantity === 'current' ? arcColumn.currentSquared : arcColumn.voltageSquared) * columnOf(rows, own, arcColumn.on));
}

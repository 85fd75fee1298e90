import type { ArcRow, RunRowGroup } from './row.js';
import { arcRowFlags } from './row.js';

export function arcRow(group: RunRowGroup, arc: number): ArcRow | undefined {
  for (const own of group.arcs) if (own.arc === arc) return own.row;
  return undefined;
}

/** ∫ over the row of what is judged: an alternating arc by the RMS of the row, any other by its mean. */
export function judgedIntegral(row: ArcRow, quantity: 'current' | 'voltage'): number {
  if ((row.flags & arcRowFlags.alternating) !== 0) return Math.sqrt((quantity === 'current' ? row.currentSquared : row.voltageSquared) * row.on);
  return quantity === 'current' ? row.current : row.voltage;
}

import { meanOrRms } from './alternating.js';
import type { ArcRow, RunRowGroup } from './row.js';

export function arcRow(group: RunRowGroup, arc: number): ArcRow | undefined {
  for (const own of group.arcs) if (own.arc === arc) return own.row;
  return undefined;
}

/** ∫ over the row of what is judged: an alternating arc by the RMS of the row, any other by its mean. */
export function judgedIntegral(row: ArcRow, quantity: 'current' | 'voltage'): number {
  return quantity === 'current' ? meanOrRms(row.flags, row.current, row.currentSquared, row.on) : meanOrRms(row.flags, row.voltage, row.voltageSquared, row.on);
}

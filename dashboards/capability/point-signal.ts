import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import type { ShownQuantity } from '../shared/units.js';

/** What a value is marked by: one beyond a limit comes first. */
export type PointSignal = 'limit' | 'side' | null;

/** The signal of each run, in their order. */
export function pointSignals({ runs, signals }: CapabilityAnswer): PointSignal[] {
  const of = (rule: 'limit' | 'side'): Set<string> => new Set(signals.flatMap((own) => (own.rule === rule ? own.runs : [])));
  const [limit, side] = [of('limit'), of('side')];
  return runs.map(({ id }) => (limit.has(id) ? 'limit' : side.has(id) ? 'side' : null));
}

/** How values of a quantity are shown. */
export function measureOf(quantity: CapabilityAnswer['quantity']): ShownQuantity {
  return quantity === 't85' ? 'time' : quantity;
}

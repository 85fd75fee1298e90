import { heatInput } from '../rows/heat-input.js';
import type { RunSums } from './run-sums.js';

/** Arc energy is not given while the run is shorter than this, mm. */
export const shortestLength = 20;
/** A run of that length has it, whatever rounding makes of the sum of its rows. */
export const isLong = (length: number): boolean => length > shortestLength - 1e-9;

/** Heat input of the weld zone so far, kJ/mm; null where it cannot be given: no travel, a run that is too short, or no weld zone yet. */
export function weldHeatInput({ weld, parameters, speedTime, length, gapLength, inside }: Pick<RunSums, 'weld' | 'parameters' | 'speedTime' | 'length' | 'gapLength' | 'inside'>): number | null {
  const value = heatInput(Object.values(weld).filter((own) => own.length > 0 || own.energy > 0), parameters.thermalEfficiency);
  return speedTime > 0 && isLong(length + gapLength) && inside > 0 && value > 0 && value < Infinity ? value : null;
}

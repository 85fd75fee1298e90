import type { Absences } from './absence.js';
import type { ArcSums } from './arc-sums.js';
import type { RunWire } from '../procedure/zone.js';

/** Electricity of a run: kWh at the arc, not from the mains, and the share of the run's duration in which an arc was on. */
export interface Electricity {
  readonly energy: number;
  readonly duty: number | null;
}

/** `energy` in kJ (1 kWh is 3600 kJ), times in s. */
export function electricity(energy: number, arcTime: number, duration: number, reasons: Absences): Electricity {
  if (!(duration > 0)) reasons['electricity.duty'] = { code: 'instant' };
  return { energy: energy / 3600, duty: duration > 0 ? arcTime / duration : null };
}

/**
 * Current density in the wires of an arc, A/mm²: I / ((π/4)·d²·wires), the usual definition. I is the mean current, and RMS where the arc is on
 * alternating current. About 150 A per mm of diameter is a mid value (lecture text on submerged arc welding).
 */
export function currentDensity(sums: Pick<ArcSums, 'on' | 'current' | 'currentSquared'>, alternating: boolean, { diameter, count }: Pick<RunWire, 'diameter' | 'count'>, reasons: Absences): number | null {
  if (diameter === null || !(sums.on > 0)) {
    reasons['currentDensity'] = { code: diameter === null ? 'noDiameter' : 'instant' };
    return null;
  }
  const current = alternating ? Math.sqrt(sums.currentSquared / sums.on) : Math.abs(sums.current / sums.on);
  return current / ((Math.PI / 4) * diameter ** 2 * count);
}

import type { CoolingConditions } from './cooling-conditions.js';

/** How the heat leaves the weld: within the plane of a thin plate, or into the depth of a thick one as well. */
export type CoolingForm = 'two-dimensional' | 'three-dimensional';

/** The time in which a weld cools from 800 to 500 °C, and the form that decides it. */
export interface CoolingTime {
  /** t8/5, s. */
  readonly value: number;
  readonly form: CoolingForm;
  /** The thickness, mm, at which both forms give the same time; up to it the form is two-dimensional. */
  readonly transitionThickness: number;
}

/** At this start temperature and above, °C, the weld never cools to 500 °C. */
export const hottestStart = 500;

// EN 1011-2:2001, annex D, as printed in the SSAB Welding Handbook, ed. 2, p. 17. It holds for unalloyed and low-alloy steel. Units: heat input kJ/mm
// (with the thermal efficiency in it), temperatures °C, lengths mm, times s.

/** The factors that stand for the thermal properties of the steel in the two forms, by the start temperature. */
const deepFactor = (temperature: number): number => 6700 - 5 * temperature;
const flatFactor = (temperature: number): number => (4300 - 4.3 * temperature) * 1e5;

/** t8/5 of a thick plate, s, whatever its thickness: (6700 − 5·T0)·Q·[1/(500 − T0) − 1/(800 − T0)]·F3. */
export function deepCoolingTime(heatInput: number, temperature: number, f3: number): number {
  return deepFactor(temperature) * heatInput * (1 / (500 - temperature) - 1 / (800 - temperature)) * f3;
}

/** t8/5 of a thin plate, s: (4300 − 4.3·T0)·10⁵·(Q²/d²)·[1/(500 − T0)² − 1/(800 − T0)²]·F2. */
export function flatCoolingTime(heatInput: number, temperature: number, thickness: number, f2: number): number {
  return flatFactor(temperature) * (heatInput / thickness) ** 2 * (1 / (500 - temperature) ** 2 - 1 / (800 - temperature) ** 2) * f2;
}

/** The thickness, mm, at which both forms give the same time: √((4300 − 4.3·T0)/(6700 − 5·T0)·10⁵·Q·[1/(500 − T0) + 1/(800 − T0)]·F2/F3). */
export function transitionThickness(heatInput: number, temperature: number, f2: number, f3: number): number {
  return Math.sqrt((flatFactor(temperature) / deepFactor(temperature)) * heatInput * (1 / (500 - temperature) + 1 / (800 - temperature)) * (f2 / f3));
}

/**
 * t8/5 of a weld with this heat input, kJ/mm: the greater of the two forms, which is the two-dimensional one up to the transition thickness. Null where
 * heat input, thickness or start temperature is not known (heat input also where it is NaN or not above 0), and where the plate begins at 500 °C or more.
 */
export function coolingTime(heatInput: number | null, { thickness, f2, f3, temperature }: CoolingConditions): CoolingTime | null {
  if (heatInput === null || !(heatInput > 0 && heatInput < Infinity) || thickness === null || temperature === null || temperature.value >= hottestStart) return null;
  const transition = transitionThickness(heatInput, temperature.value, f2, f3);
  return thickness <= transition
    ? { value: flatCoolingTime(heatInput, temperature.value, thickness, f2), form: 'two-dimensional', transitionThickness: transition }
    : { value: deepCoolingTime(heatInput, temperature.value, f3), form: 'three-dimensional', transitionThickness: transition };
}

import type { CoolingConditions, TemperatureFrom } from '../cooling/cooling-conditions.js';
import { coolingTime, hottestStart, type CoolingTime } from '../cooling/cooling-time.js';
import type { Absence } from './absence.js';

/** The cooling time t8/5 of a run, s, and what it was computed from: kJ/mm, mm, °C. */
export interface CoolingFigure extends CoolingTime {
  readonly heatInput: number;
  readonly thickness: number;
  readonly f2: number;
  readonly f3: number;
  readonly temperature: number;
  readonly temperatureFrom: TemperatureFrom;
}

/** The cooling time of a weld with this heat input; null where it cannot be given, see `whyNoCooling`. */
export function coolingFigure(heatInput: number | null, conditions: CoolingConditions): CoolingFigure | null {
  const { thickness, f2, f3, temperature } = conditions;
  const time = coolingTime(heatInput, conditions);
  if (time === null || heatInput === null || thickness === null || temperature === null) return null;
  return { ...time, heatInput, thickness, f2, f3, temperature: temperature.value, temperatureFrom: temperature.from };
}

/** Why the conditions alone give no cooling time, or null if it is for lack of heat input. */
export function whyNoCooling({ thickness, temperature }: CoolingConditions): Absence | null {
  const missing = [...(thickness === null ? (['thickness'] as const) : []), ...(temperature === null ? (['temperature'] as const) : [])];
  if (missing.length > 0) return { code: 'coolingUnknown', missing };
  return temperature !== null && temperature.value >= hottestStart ? { code: 'plateTooHot', temperature: temperature.value } : null;
}

import { unitSystem } from '../shared/choices.js';
import { entryQuantities, type NumberEntry } from '../shared/preparation-sentence.js';
import { fromUnit, inUnit } from '../shared/units.js';

interface Step {
  /** In the unit that is shown. */
  readonly metric: readonly [small: number, large: number];
  readonly us: readonly [small: number, large: number];
  /** What the API accepts, in its own unit. */
  readonly least: number;
  readonly most: number;
}

/** °C and °F, h, mm and in; common practice, no source. */
const steps: Readonly<Record<NumberEntry, Step>> = {
  fluxTemperature: { metric: [5, 25], us: [10, 50], least: 0, most: 1000 },
  fluxHours: { metric: [0.5, 2], us: [0.5, 2], least: 0, most: 168 },
  electrodeExtension: { metric: [1, 5], us: [0.05, 0.25], least: 1, most: 1000 },
  wireDiameter: { metric: [0.1, 0.4], us: [0.005, 0.02], least: 0.1, most: 20 },
  preheatMeasured: { metric: [5, 25], us: [10, 50], least: -100, most: 1500 },
};

/** The next round number up or down in the unit that is shown, in the API's unit. */
export function stepped(entry: NumberEntry, value: number, up: boolean, large = false): number {
  const step = stepsOf(entry)[large ? 1 : 0];
  const at = inUnit(entryQuantities[entry], value) / step;
  // A value that is a round number except for its last bits steps on from there.
  const next = up ? Math.floor(at + 1e-6) + 1 : Math.ceil(at - 1e-6) - 1;
  const { least, most } = steps[entry];
  return Number(Math.min(most, Math.max(least, fromUnit(entryQuantities[entry], next * step))).toPrecision(12));
}

/** The small and the large step in the unit that is shown. */
export function stepsOf(entry: NumberEntry): readonly [small: number, large: number] {
  return steps[entry][unitSystem.value];
}

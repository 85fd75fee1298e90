import type { Assignment } from '../../shared/weld/procedure/assignment.js';

/** Shape factors for two- and three-dimensional heat flow. */
export interface PlainShape {
  readonly f2: number;
  readonly f3: number;
}

/** The cooling time of a run under the names of the API: s, mm, kJ/mm, °C. */
export interface PlainCooling {
  readonly value: number;
  readonly form: 'two-dimensional' | 'three-dimensional';
  readonly transitionThickness: number;
  readonly heatInput: number;
  readonly thickness: number;
  readonly f2: number;
  readonly f3: number;
  readonly temperature: number;
  readonly temperatureFrom: 'declared';
}

/**
 * The cooling time by EN 1011-2:2001, annex D, as the difference of two moments: behind the source a thick plate is Q/(2πλt) above its start temperature
 * and a thin one Q/(d·√(4πλρc·t)), so that it falls to a temperature at a time that goes with one over that difference, or with one over its square. The
 * longer of the two times holds. Null where something is not known, or the plate is at 500 °C or more.
 */
export function plainCooling(heatInput: number | null, assignment: Pick<Assignment, 'thickness' | 'preheat'> | null, { f2, f3 }: PlainShape): PlainCooling | null {
  const thickness = assignment?.thickness;
  const start = assignment?.preheat;
  if (heatInput === null || thickness === undefined || start === undefined || start >= 500) return null;
  const deepAt = (temperature: number): number => ((6700 - 5 * start) * heatInput * f3) / (temperature - start);
  const flatAt = (temperature: number, plate: number): number => (1e5 * (4300 - 4.3 * start) * f2 * heatInput * heatInput) / (plate * (temperature - start)) ** 2;
  const deep = deepAt(500) - deepAt(800);
  const flat = (plate: number): number => flatAt(500, plate) - flatAt(800, plate);
  return {
    value: Math.max(deep, flat(thickness)), form: flat(thickness) >= deep ? 'two-dimensional' : 'three-dimensional',
    // The time in a thin plate goes with one over the square of its thickness.
    transitionThickness: Math.sqrt(flat(1) / deep), heatInput, thickness, f2, f3, temperature: start, temperatureFrom: 'declared',
  };
}

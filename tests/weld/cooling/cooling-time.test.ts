import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coolingTime, deepCoolingTime, flatCoolingTime, transitionThickness } from '../../../shared/weld/cooling/cooling-time.js';
import type { CoolingConditions } from '../../../shared/weld/cooling/cooling-conditions.js';
import { integratedCoolingTime, type Metal } from './rosenthal.js';

const plate = (temperature: number, thickness: number, f2 = 1, f3 = 1): CoolingConditions => ({ thickness, f2, f3, temperature: { value: temperature, from: 'declared' } });

/** 600 A at 30 V and 550 mm/min, kJ/mm: a worked example of a lecture text on submerged arc welding, 1.963636. */
const submergedArc = (600 * 30 * 60) / (550 * 1000);

describe('t8/5 by EN 1011-2:2001, annex D (SSAB Welding Handbook, ed. 2, p. 17)', () => {
  // Both forms and the transition by the printed formulas, worked out apart from the program; the row at 1.0 kJ/mm and 20 °C is also printed in a public
  // specification of such a calculation (5.29 s; 11.36 s at 10 mm; 14.7 mm).
  it.each([
    [1, 20, 5.2885, 14.6586, 7.8914, 2.8409, 1.2626],
    [1, 150, 7.8462, 16.4322, 14.7124, 5.2965, 2.354],
    [submergedArc, 100, 13.0442, 21.9436, 43.6183, 15.7026, 6.9789],
    [submergedArc, 238, 22.0443, 25.563, 100.036, 36.013, 16.0058],
    [3, 100, 19.9286, 27.123, 101.8096, 36.6515, 16.2895],
  ])('%f kJ/mm at %f °C', (heatInput, temperature, deep, transition, ...flat) => {
    expect(deepCoolingTime(heatInput, temperature, 1)).toBeCloseTo(deep, 4);
    expect(transitionThickness(heatInput, temperature, 1, 1)).toBeCloseTo(transition, 4);
    for (const [at, thickness] of [12, 20, 30].entries()) {
      const thin = flat[at] ?? Number.NaN;
      expect(flatCoolingTime(heatInput, temperature, thickness, 1)).toBeCloseTo(thin, 4);
      const found = coolingTime(heatInput, plate(temperature, thickness));
      // The greater of the two holds.
      expect(found?.value).toBeCloseTo(Math.max(deep, thin), 4);
      expect(found?.form).toBe(thin > deep ? 'two-dimensional' : 'three-dimensional');
      expect(found?.transitionThickness).toBeCloseTo(transition, 4);
    }
  });

  it('is as printed in the public specification', () => {
    expect(deepCoolingTime(1, 20, 1)).toBeCloseTo(5.29, 2);
    expect(flatCoolingTime(1, 20, 10, 1)).toBeCloseTo(11.36, 2);
    expect(transitionThickness(1, 20, 1, 1)).toBeCloseTo(14.7, 1);
  });

  it('takes the shape factors into both forms and the transition', () => {
    // A T-joint fillet, F2 0.45 and F3 0.67, at 2.2 kJ/mm and 150 °C: (6700 − 750)·2.2·(1/350 − 1/650)·0.67 = 11.565231;
    // (4300 − 645)·1e5·(2.2/d)²·(1/350² − 1/650²)·0.45 = 8.010898 at 24 mm, 18.024521 at 16 mm; √(3655/5950·1e5·2.2·(1/350 + 1/650)·0.45/0.67) = 19.974444.
    const thick = coolingTime(2.2, plate(150, 24, 0.45, 0.67));
    expect(thick?.value).toBeCloseTo(11.565231, 6);
    expect(thick?.form).toBe('three-dimensional');
    expect(thick?.transitionThickness).toBeCloseTo(19.974444, 6);
    expect(flatCoolingTime(2.2, 150, 24, 0.45)).toBeCloseTo(8.010898, 6);
    const thin = coolingTime(2.2, plate(150, 16, 0.45, 0.67));
    expect(thin?.value).toBeCloseTo(18.024521, 6);
    expect(thin?.form).toBe('two-dimensional');
  });

  it('is two-dimensional at the transition itself', () => {
    const transition = transitionThickness(2, 100, 0.9, 0.67);
    expect(coolingTime(2, plate(100, transition, 0.9, 0.67))?.form).toBe('two-dimensional');
    expect(coolingTime(2, plate(100, transition * (1 + 1e-12), 0.9, 0.67))?.form).toBe('three-dimensional');
  });

  it('is not given where an input is missing, or where the plate is too hot to cool to 500 °C', () => {
    const known = plate(100, 20);
    expect(coolingTime(null, known)).toBeNull();
    for (const heatInput of [0, -1, Number.NaN, Infinity]) expect(coolingTime(heatInput, known)).toBeNull();
    expect(coolingTime(2, { ...known, thickness: null })).toBeNull();
    expect(coolingTime(2, { ...known, temperature: null })).toBeNull();
    for (const temperature of [500, 501, 799, 800, 1500]) expect(coolingTime(2, plate(temperature, 20))).toBeNull();
    expect(coolingTime(2, plate(499.9, 20))?.value).toBeGreaterThan(0);
  });
});

describe('what follows from the formulas', () => {
  const heatInputs = fc.double({ min: 0.05, max: 20, noNaN: true });
  const temperatures = fc.double({ min: -50, max: 490, noNaN: true });
  const thicknesses = fc.double({ min: 1, max: 300, noNaN: true });
  const factors = fc.double({ min: 0.2, max: 2, noNaN: true });
  const close = (found: number, expected: number): void => {
    expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-9 * expected);
  };

  it('the three-dimensional time is linear in heat input and free of the thickness', () => {
    fc.assert(fc.property(heatInputs, temperatures, factors, thicknesses, (heatInput, temperature, f3, thickness) => {
      close(deepCoolingTime(3 * heatInput, temperature, f3), 3 * deepCoolingTime(heatInput, temperature, f3));
      const beyond = transitionThickness(heatInput, temperature, 1, f3) + thickness;
      close(coolingTime(heatInput, plate(temperature, beyond, 1, f3))?.value ?? 0, deepCoolingTime(heatInput, temperature, f3));
    }));
  });

  it('the two-dimensional time grows with (Q/d)²', () => {
    fc.assert(fc.property(heatInputs, temperatures, thicknesses, factors, (heatInput, temperature, thickness, f2) => {
      const once = flatCoolingTime(heatInput, temperature, thickness, f2);
      close(flatCoolingTime(2 * heatInput, temperature, thickness, f2), 4 * once);
      close(flatCoolingTime(heatInput, temperature, thickness / 3, f2), 9 * once);
      close(flatCoolingTime(5 * heatInput, temperature, 5 * thickness, f2), once);
    }));
  });

  it('both are equal at the transition, and the greater holds on either side of it', () => {
    fc.assert(fc.property(heatInputs, temperatures, thicknesses, factors, factors, (heatInput, temperature, thickness, f2, f3) => {
      const transition = transitionThickness(heatInput, temperature, f2, f3);
      close(flatCoolingTime(heatInput, temperature, transition, f2), deepCoolingTime(heatInput, temperature, f3));
      const greater = Math.max(flatCoolingTime(heatInput, temperature, thickness, f2), deepCoolingTime(heatInput, temperature, f3));
      close(coolingTime(heatInput, plate(temperature, thickness, f2, f3))?.value ?? 0, greater);
    }));
  });

  it('rises with the start temperature, and never falls with heat input', () => {
    fc.assert(fc.property(heatInputs, temperatures, thicknesses, factors, factors, fc.double({ min: 0.01, max: 9, noNaN: true }), (heatInput, temperature, thickness, f2, f3, more) => {
      const at = (own: number, warm: number): number => coolingTime(own, plate(warm, thickness, f2, f3))?.value ?? 0;
      expect(at(heatInput, temperature + more)).toBeGreaterThan(at(heatInput, temperature));
      expect(at(heatInput + more, temperature)).toBeGreaterThan(at(heatInput, temperature));
    }));
  });
});

describe("Rosenthal's moving source, integrated numerically", () => {
  /*
   * On the axis behind a point source on a thick plate T − T0 = Q/(2πλt), so that t8/5 = Q/(2πλ)·[1/(500 − T0) − 1/(800 − T0)]; behind a line source in a
   * thin plate, far enough, T − T0 = Q/(d·√(4πλρc·t)), and t8/5 = Q²/(4πλρc·d²)·[1/(500 − T0)² − 1/(800 − T0)²]. So the factors of the standard, which are fits
   * to measured cooling times, stand for λ = 10⁶/(2π·(6700 − 5·T0)) and λρc = 10¹³/(4π·(4300 − 4.3·T0)).
   */
  const metalAt = (temperature: number): Metal => {
    const conductivity = 1e6 / (2 * Math.PI * (6700 - 5 * temperature));
    return { conductivity, capacity: 1e13 / (4 * Math.PI * (4300 - 4.3 * temperature)) / conductivity };
  };

  it.each([[1, 20], [1.963636, 100], [2.2, 238], [3, 400]])('a thick plate, %f kJ/mm at %f °C, within 1 in 10⁶ at any speed', (heatInput, temperature) => {
    const expected = deepCoolingTime(heatInput, temperature, 1);
    for (const speed of [0.004, 0.01, 0.2]) {
      const found = integratedCoolingTime({ heatInput: heatInput * 1e6, speed, start: temperature, metal: metalAt(temperature), thickness: null });
      expect(Math.abs(found / expected - 1)).toBeLessThan(1e-6);
    }
  });

  it.each([[1, 20, 12], [1.963636, 100, 12], [1.963636, 238, 20], [3, 100, 20]])('a thin plate, %f kJ/mm at %f °C, %f mm: 1 in 200 at 10 mm/s, 1 in 10⁴ at 200 mm/s', (heatInput, temperature, thickness) => {
    // The formula is the limit of a fast source: e^x·K0(x) = √(π/(2x))·(1 − 1/(8x) + …) with x = v²t/(2a).
    const expected = flatCoolingTime(heatInput, temperature, thickness, 1);
    for (const [speed, tolerance] of [[0.01, 5e-3], [0.2, 1e-4]] as const) {
      const found = integratedCoolingTime({ heatInput: heatInput * 1e6, speed, start: temperature, metal: metalAt(temperature), thickness: thickness / 1e3 });
      expect(Math.abs(found / expected - 1)).toBeLessThan(tolerance);
    }
  });
});

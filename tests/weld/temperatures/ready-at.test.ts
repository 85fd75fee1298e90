import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readyAt, type CoolingPoint } from '../../../shared/weld/temperatures/ready-at.js';
import { firstSeed } from '../../seeds.js';

const begun = 1_795_590_000_000_000;
const point = (value: number, seconds: number): CoolingPoint => ({ id: `${value} at ${seconds}`, value, at: begun + seconds * 1e6 });
const limits = { interpassMax: 150, preheatMin: 100 };

describe('when a cooling plate will be ready', () => {
  test('is where its course through the last two measurements meets the limits', () => {
    // 300 °C, and 252 °C 120 s later, in a shop of 20 °C: 150 °C after 369.601 s more, 100 °C after 679.414 s.
    const ready = readyAt([point(500, -60), point(300, 0), point(252, 120)], limits, 20);
    expect(ready.from).toEqual(['300 at 0', '252 at 120']);
    const after = (own: typeof ready.at): string => ('at' in own ? ((own.at - begun) / 1e6 - 120).toFixed(3) : own.why);
    expect([after(ready.at), after(ready.until)]).toEqual(['369.601', '679.414']);
  });

  test('is the second measurement where that is at the limit or below it already', () => {
    expect(readyAt([point(300, 0), point(150, 120)], limits, 20)).toMatchObject({ at: { at: begun + 120e6 } });
    expect(readyAt([point(300, 0), point(90, 120)], limits, 20)).toMatchObject({ at: { at: begun + 120e6 }, until: { at: begun + 120e6 } });
  });

  test.each([
    ['fewMeasurements', [], limits], ['oneMeasurement', [point(300, 0)], limits], ['plateNotCooling', [point(252, 0), point(252, 120)], limits], ['plateNotCooling', [point(200, 0), point(252, 120)], limits],
    ['plateNotCooling', [point(300, 0), point(252, 0)], limits], ['plateAtAmbient', [point(300, 0), point(20, 120)], limits], ['limitAtAmbient', [point(300, 0), point(252, 120)], { interpassMax: 20, preheatMin: 15 }],
    ['noTemperatureLimit', [point(300, 0), point(252, 120)], { interpassMax: null, preheatMin: null }],
  ] as const)('is not known: %s', (why, points, given) => {
    expect(readyAt(points, given, 20)).toMatchObject({ at: { why }, until: { why } });
  });

  test('agrees with the plate cooled step by step', () => {
    // Newton's law as a differential equation, dT/dt = −k·(T − A), solved by the classical Runge–Kutta method instead of in closed form.
    const cooled = (from: number, ambient: number, rate: number, seconds: number): number => {
      const steps = 2000;
      const h = seconds / steps;
      const slope = (value: number): number => -rate * (value - ambient);
      let value = from;
      for (let step = 0; step < steps; step += 1) {
        const a = slope(value);
        const b = slope(value + (h / 2) * a);
        const c = slope(value + (h / 2) * b);
        const d = slope(value + h * c);
        value += (h / 6) * (a + 2 * b + 2 * c + d);
      }
      return value;
    };
    const given = fc.record({ ambient: fc.integer({ min: -10, max: 40 }), first: fc.integer({ min: 200, max: 900 }), rate: fc.double({ min: 1e-4, max: 5e-3, noNaN: true }), between: fc.integer({ min: 10, max: 600 }), share: fc.double({ min: 0.2, max: 0.9, noNaN: true }) });
    fc.assert(
      fc.property(given, ({ ambient, first, rate, between, share }) => {
        const second = cooled(first, ambient, rate, between);
        const limit = ambient + share * (second - ambient);
        const { at } = readyAt([point(first, 0), point(second, between)], { interpassMax: limit, preheatMin: null }, ambient);
        const seconds = 'at' in at ? (at.at - begun) / 1e6 - between : Number.NaN;
        expect(cooled(second, ambient, rate, seconds)).toBeCloseTo(limit, 2);
      }),
      { seed: firstSeed(), numRuns: 200 },
    );
  });
});

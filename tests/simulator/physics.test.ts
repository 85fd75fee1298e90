import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { powerFactorOf, waveAt } from '../../services/simulator/alternation.js';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { meltedFeedSpeed, meltingCurrent, meltingRate } from '../../services/simulator/melting.js';
import { averagedDeviation, createNoise } from '../../services/simulator/noise.js';
import { plateTemperatureAfter } from '../../services/simulator/plate.js';
import { randomFrom } from '../../services/simulator/random.js';
import { planScenario, scenarioNames } from '../../services/simulator/scenarios.js';
import { mean } from './played-run.js';

describe('melting rate', () => {
  test('350 A through 3/32 in wire at 1 in extension', () => {
    const rate = (meltingRate(350, { wireDiameter: 25.4 * (3 / 32), extension: 25.4 }) / 0.45359237) * 60;
    // The formula worked by hand (from memory, Wilson, Claussen and Jackson 1956): 9.32 lb/h.
    expect(rate).toBeCloseTo(9.32, 2);
    // Printed for this case in conference slides on submerged arc process variations: 9.9 lb/h.
    expect(Math.abs(rate / 9.9 - 1)).toBeLessThan(0.06);
  });

  test('the current that melts a feed is the inverse of the feed that a current melts', () => {
    const electrodes = fc.record({
      wireDiameter: fc.double({ min: 1.6, max: 6, noNaN: true }),
      extension: fc.double({ min: 12, max: 60, noNaN: true }),
    });
    fc.assert(
      fc.property(electrodes, fc.double({ min: 100, max: 1500, noNaN: true }), (electrode, current) => {
        expect(meltingCurrent(meltedFeedSpeed(current, electrode), electrode)).toBeCloseTo(current, 4);
      }),
    );
  });

  test('a longer extension melts the same feed with less current', () => {
    const feed = meltedFeedSpeed(600, { wireDiameter: 4, extension: 30 });
    expect(meltingCurrent(feed, { wireDiameter: 4, extension: 40 })).toBeLessThan(600);
  });
});

describe('random numbers and noise', () => {
  test('uniform and normal draws have the moments of their distributions', () => {
    const random = randomFrom('moments');
    const uniform = Array.from({ length: 100_000 }, () => random.between(0, 1));
    // Uniform: mean 1/2, variance 1/12. Bounds are five standard errors wide.
    expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / 100_000));
    expect(Math.abs(mean(uniform.map((value) => (value - 0.5) ** 2)) - 1 / 12)).toBeLessThan(0.0012);
    const normal = Array.from({ length: 100_000 }, () => random.normal());
    expect(Math.abs(mean(normal))).toBeLessThan(5 / Math.sqrt(100_000));
    expect(Math.abs(mean(normal.map((value) => value ** 2)) - 1)).toBeLessThan(0.025);
  });

  test('the spread of an averaged fluctuation is that of actual averages', () => {
    const [memory, window, step] = [0.004, 0.1, 0.0005];
    const noise = createNoise(memory, randomFrom('averages'));
    const perWindow = Math.round(window / step);
    const averages = Array.from({ length: 4000 }, () => mean(Array.from({ length: perWindow }, () => noise.next(step))));
    const measured = Math.sqrt(mean(averages.map((value) => value ** 2)));
    // 4000 nearly independent averages know their spread to about 1.1 %; five times that.
    expect(Math.abs(measured / averagedDeviation(memory, window) - 1)).toBeLessThan(0.06);
  });
});

describe('alternating waves', () => {
  test.each([
    ['sine', 0], ['sine', 20], ['sine', 35], ['square', 0], ['square', 18], ['square', 90],
  ] as const)('a %s whose current lags by %i° has RMS values of 1 and its power factor as mean power', (shape, lag) => {
    const alternation = { shape, frequency: 50, lag };
    const count = 1000;
    const samples = Array.from({ length: count }, (_, sample) => {
      // Between the edges, so that each sample stands for its own part of the period.
      const time = (sample + 0.5) / count / 50;
      return { current: waveAt(alternation, time, lag), voltage: waveAt(alternation, time, 0) };
    });
    expect(mean(samples.map(({ current }) => current ** 2))).toBeCloseTo(1, 9);
    expect(mean(samples.map(({ voltage }) => voltage ** 2))).toBeCloseTo(1, 9);
    expect(mean(samples.map(({ current, voltage }) => current * voltage))).toBeCloseTo(powerFactorOf(alternation), 9);
    expect(Math.abs(mean(samples.map(({ current }) => current)))).toBeLessThan(1e-9);
  });

  test('the power factor of a sine is cos φ, that of a square wave falls evenly to 0 at 90°', () => {
    // cos 20° as in tables of cosines; a quarter of the time with opposite signs takes off half of the power.
    expect(powerFactorOf({ shape: 'sine', frequency: 50, lag: 20 })).toBeCloseTo(0.939693, 6);
    expect(powerFactorOf({ shape: 'square', frequency: 50, lag: 45 })).toBeCloseTo(0.5, 12);
  });
});

test('a plate without losses takes up just the heat put in', () => {
  // 1 s is nothing against the cooling time: 10 kJ into 1000·500·20 mm of steel (78.5 kg, 38.465 kJ/K) give 0.26 K.
  const plate = { length: 1000, thickness: 20, ambient: 20 };
  expect(plateTemperatureAfter(plate, 20, 10, 1) - 20).toBeCloseTo(10 / (78.5 * 0.49), 3);
  expect(plateTemperatureAfter(plate, 120, 0, 1e6)).toBeCloseTo(20, 6);
});

test('plans stay near what their procedures allow, whatever the seed', () => {
  fc.assert(
    fc.property(fc.nat(), fc.integer({ min: 1, max: 200 }), (seed, index) => {
      const plan = planCarriage(index, seed);
      expect(plan.arcs.length).toBe(index === 2 ? 2 : 1);
      const further = scenarioNames.map((scenario) => planScenario(scenario, seed));
      expect(further.map(({ arcs }) => arcs.length)).toEqual([2, 1, 1]);
      for (const own of [plan, ...further]) expect(Math.abs(own.clockOffset)).toBeLessThanOrEqual(1500);
      for (const arc of [plan, ...further].flatMap(({ arcs }) => arcs)) {
        // Extension of 6 to 10 wire diameters: common practice, no source.
        expect(arc.extension / arc.wireDiameter).toBeGreaterThanOrEqual(6);
        expect(arc.extension / arc.wireDiameter).toBeLessThanOrEqual(10);
        // 4.0 mm wire takes 400 to 800 A: from memory.
        expect(arc.current).toBeGreaterThan(400);
        expect(arc.current).toBeLessThan(800);
      }
    }),
  );
});

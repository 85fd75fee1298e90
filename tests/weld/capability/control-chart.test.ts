import fc from 'fast-check';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { expect, it } from 'vitest';
import { capability } from '../../../shared/weld/capability/capability.js';
import { controlChart, meanOf } from '../../../shared/weld/capability/control-chart.js';

/** NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, individuals control limits: the ten values, and the limits as printed. */
const nist = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
/** Montgomery and Runger, Applied Statistics and Probability for Engineers, 3rd edition, Table 16-3. */
const montgomery = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101];

it('gives the limits of the individuals chart in the NIST handbook', () => {
  const chart = controlChart(nist);
  expect(chart?.mean).toBeCloseTo(50.81, 12);
  // 16.9 over nine differences
  expect(chart?.movingRange).toBeCloseTo(16.9 / 9, 12);
  // Printed: 55.8041, 45.8159.
  expect(chart?.limits.upper).toBeCloseTo(55.80409, 5);
  expect(chart?.limits.lower).toBeCloseTo(45.81591, 5);
  expect(chart?.signals).toEqual([]);
});

it('gives the limits of the individuals chart in Montgomery and Runger, which prints 105.99 from a spread that it rounded first', () => {
  const chart = controlChart(montgomery);
  // mean 99.095; 49.1 over 19 differences
  expect(chart?.limits.upper).toBeCloseTo(105.9819, 5);
  expect(chart?.limits.lower).toBeCloseTo(92.2081, 5);
  expect(chart?.signals).toEqual([]);
});

it('gives the capability of the NIST values between 45 and 57', () => {
  // By hand from mean 50.81, spread 1.877778 / 1.128 = 1.664697 and the deviation 2.033852 of the ten values.
  const found = capability(nist, { min: 45, max: 57 });
  for (const [name, value] of [['mean', 50.81], ['movingRange', 1.877778], ['cp', 1.20142], ['cpk', 1.163375], ['pp', 0.983356], ['ppk', 0.952216]] as const) expect(found[name], name).toBeCloseTo(value, 6);
  expect(found.limits?.lower).toBeCloseTo(45.81591, 6);
  expect(found.limits?.upper).toBeCloseTo(55.80409, 6);
  expect(found).toMatchObject({ few: true, reasons: {} });
});

it('gives the performance of NIST 6.1.6: limits 8 and 20, mean 16 and deviation 2 are 1.0 and 0.6667', () => {
  // Two values a and b have the deviation |a − b|/√2.
  const found = capability([16 - Math.SQRT2, 16 + Math.SQRT2], { min: 8, max: 20 });
  expect(found.mean).toBeCloseTo(16, 12);
  expect(found.standardDeviation).toBeCloseTo(2, 11);
  expect(found.pp).toBeCloseTo(1, 11);
  expect(found.ppk).toBeCloseTo(2 / 3, 11);
});

it('gives the capability of NIST 6.1.6 by the spread from run to run', () => {
  // A range of 2.256 between neighbours around 16 is a spread of 2.
  const found = capability([16 - 1.128, 16 + 1.128, 16 - 1.128, 16 + 1.128], { min: 8, max: 20 });
  expect(found.spread).toBeCloseTo(2, 11);
  expect(found.cp).toBeCloseTo(1, 11);
  expect(found.cpk).toBeCloseTo(2 / 3, 11);
});

it('gives the indices of the one side that has a limit, and says that there is no other', () => {
  const both = capability(nist, { min: 45, max: 57 });
  const upper = capability(nist, { max: 57 });
  const lower = capability(nist, { min: 45 });
  // (57 − 50.81)/(3·spread) with 3·spread = 3·16.9/(9·1.128): 6.19·3.384/16.9
  expect(upper.cpk).toBeCloseTo(1.239465, 6);
  expect(lower.cpk).toBe(both.cpk);
  expect([upper.cp, upper.pp, lower.cp, lower.pp]).toEqual([null, null, null, null]);
  expect(upper.reasons).toEqual({ cp: { code: 'oneLimit' }, pp: { code: 'oneLimit' } });
  // A mean beyond its limit: negative.
  expect(capability(nist, { max: 50 }).cpk).toBeCloseTo(-0.81 / (3 * 1.664697), 6);
  const none = { code: 'noLimits' };
  expect(capability(nist, null)).toMatchObject({ cp: null, cpk: null, pp: null, ppk: null, reasons: { cp: none, cpk: none, pp: none, ppk: none } });
});

it('divides by no spread of 0 and makes nothing of fewer than two values', () => {
  const few = { code: 'fewRuns' };
  expect(capability([], { min: 1, max: 2 })).toEqual({
    mean: null, standardDeviation: null, movingRange: null, spread: null, limits: null, cp: null, cpk: null, pp: null, ppk: null, signals: [], few: true,
    reasons: { mean: few, standardDeviation: few, movingRange: few, spread: few, limits: few, cp: few, cpk: few, pp: few, ppk: few },
  });
  const one = capability([1.7], { min: 1, max: 2 });
  expect([one.mean, one.standardDeviation, one.limits, one.cpk, one.reasons['mean'], one.reasons['limits']]).toEqual([1.7, null, null, null, undefined, few]);
  // 0.1 + 0.1 + 0.1 is not 0.3 in binary: an equal value must have no deviation all the same.
  const equal = capability(Array.from({ length: 30 }, () => 0.1), { min: 0, max: 1 });
  expect(equal).toMatchObject({ mean: 0.1, standardDeviation: 0, movingRange: 0, spread: 0, limits: { lower: 0.1, upper: 0.1 }, cp: null, cpk: null, pp: null, ppk: null, signals: [], few: false });
  expect(equal.reasons['cpk']).toEqual({ code: 'noSpread' });
  expect([capability(Array.from({ length: 24 }, () => 1), null).few, capability(Array.from({ length: 25 }, () => 1), null).few]).toEqual([true, false]);
});

it('marks a value beyond a control limit, but not one on it', () => {
  // 0 and 1 in turn, then 9: 29 differences of 1 and one of 8, so 37/30/1.128 = 1.09338 and limits below 9.
  const values = [...Array.from({ length: 30 }, (_, at) => at % 2), 9];
  expect(controlChart(values)?.signals).toEqual([{ rule: 'limit', places: [30] }]);
  expect(controlChart(values.map((value) => -value))?.signals).toEqual([{ rule: 'limit', places: [30] }]);
  // Equal values have limits at themselves.
  expect(controlChart([5, 5, 5])?.signals).toEqual([]);
});

it('marks eight in a row on one side of the mean as one stretch with all its values (Western Electric rules)', () => {
  const side = (values: readonly number[]): unknown => controlChart(values)?.signals.filter(({ rule }) => rule === 'side').map(({ places }) => [places[0], places.length]);
  const times = (count: number, ...values: number[]): number[] => Array.from({ length: count }, () => values).flat();
  // The mean is 0: eight above, eight below; nine above, nine below.
  expect(side([...times(8, 1), ...times(8, -1)])).toEqual([[0, 8], [8, 8]]);
  expect(side([...times(9, 1), ...times(9, -1)])).toEqual([[0, 9], [9, 9]]);
  // Seven are no signal, nor are eight with one on the mean among them.
  expect(side([...times(7, 1), ...times(7, -1)])).toEqual([]);
  expect(side([...times(4, 1), 0, ...times(4, 1), ...times(4, -1), 0, ...times(4, -1)])).toEqual([]);
  // A mean of 0.3 that binary sums miss by a last digit is still the mean of these.
  expect(side([...times(8, 0.3), 0.1, 0.5, 0.2, 0.4])).toEqual([]);
});

const values = fc.array(fc.integer({ min: -9_999, max: 99_999 }).map((hundredths) => hundredths / 100), { minLength: 2, maxLength: 60 });

it('agrees with a statistics library on the mean and the deviation with n − 1', () => {
  fc.assert(fc.property(values, (own) => {
    const chart = controlChart(own);
    expect(chart?.mean).toBeCloseTo(mean(own), 8);
    expect(chart?.standardDeviation).toBeCloseTo(sampleStandardDeviation(own), 8);
    expect(meanOf(own)).toBe(chart?.mean);
  }));
});

it('gives the same indices and signals in other units, and for values that are all higher by as much as their limits', () => {
  fc.assert(fc.property(values, fc.integer({ min: 1, max: 64 }), fc.integer({ min: -1000, max: 1000 }), (own, factor, shift) => {
    const window = { min: 10, max: 600 };
    const other = capability(own.map((value) => value * factor + shift), { min: 10 * factor + shift, max: 600 * factor + shift });
    const before = capability(own, window);
    for (const name of ['cp', 'cpk', 'pp', 'ppk'] as const) {
      if (before[name] === null) expect(other[name]).toBeNull();
      else expect(Math.abs((other[name] ?? Number.NaN) - before[name])).toBeLessThan(1e-8 * Math.max(1, Math.abs(before[name])));
    }
    expect(other.signals).toEqual(before.signals);
    expect(Object.keys(other.reasons)).toEqual(Object.keys(before.reasons));
  }));
});

it('gives the mirrored chart of mirrored values, and in reverse order the same figures', () => {
  fc.assert(fc.property(values, (own) => {
    const chart = controlChart(own);
    const mirrored = controlChart(own.map((value) => -value));
    const reversed = controlChart(own.toReversed());
    if (chart === null || mirrored === null || reversed === null) throw new Error('two values have a chart');
    expect([mirrored.mean, mirrored.standardDeviation, mirrored.limits.lower]).toEqual([-chart.mean, chart.standardDeviation, -chart.limits.upper]);
    expect(mirrored.signals).toEqual(chart.signals);
    expect(reversed.movingRange).toBeCloseTo(chart.movingRange, 9);
    expect(reversed.signals.length).toBe(chart.signals.length);
  }));
});

it('never gives a figure that is not finite, and names exactly those that are null', () => {
  const end = fc.option(fc.double({ min: 0, max: 1000, noNaN: true }), { nil: undefined });
  // What the generator of values does not make: none, one, and values that are all equal.
  const any = fc.oneof(values, fc.constant([0, Number.MIN_VALUE]), fc.constant([1, 1 + Number.EPSILON, 1]), fc.constant([]), fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => [value]), fc.tuple(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 2, max: 40 })).map(([value, count]) => Array.from({ length: count }, () => value)));
  fc.assert(fc.property(any, end, end, (own, min, max) => {
    const { signals, few, reasons, limits, ...figures } = capability(own, { min, max });
    const all = { ...figures, lower: limits?.lower ?? null, upper: limits?.upper ?? null };
    for (const value of Object.values(all)) expect(value === null || Number.isFinite(value)).toBe(true);
    const missing = Object.entries({ ...figures, limits }).filter(([, value]) => value === null).map(([name]) => name);
    expect(Object.keys(reasons).sort()).toEqual(missing.sort());
    expect(signals.every(({ places }) => places.every((place) => place < own.length))).toBe(true);
    expect(few).toBe(own.length < 25);
    // No index of a side is better than that of the whole.
    if (figures.cp !== null && figures.cpk !== null) expect(figures.cpk).toBeLessThanOrEqual(figures.cp + 1e-9 * Math.abs(figures.cp));
  }));
});

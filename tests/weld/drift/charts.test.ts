import { describe, expect, it } from 'vitest';
import { addToCusum, startCusum } from '../../../shared/weld/ahead/cusum.js';
import { nextEwma } from '../../../shared/weld/ahead/drift-track.js';

describe('EWMA as printed in NIST/SEMATECH e-Handbook 6.3.2.4', () => {
  const values = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  const printed = [50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99];

  it('gives the averages', () => {
    let level = 50;
    values.forEach((value, n) => {
      level = nextEwma(level, value, 0.3);
      expect(level, `value ${n + 1}`).toBeCloseTo(printed[n] ?? Number.NaN, 2);
    });
  });
});

// Montgomery and Runger, Applied Statistics and Probability for Engineers, 3e, data of Table 16-3.
const batch = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101];

describe('CUSUM as printed in Montgomery and Runger, Table 16-8: target 99, K 1, H 10', () => {
  const upper = [2, 0, 0, 0, 2, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1];
  const lower = [0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1, 2.3, 0, 0, 0.8, 0];

  it('gives both sums', () => {
    const cusum = startCusum();
    batch.forEach((value, n) => {
      addToCusum(cusum, value, 99, 1, Infinity);
      expect(cusum.upper, `upper ${n + 1}`).toBeCloseTo(upper[n] ?? Number.NaN, 9);
      expect(cusum.lower, `lower ${n + 1}`).toBeCloseTo(lower[n] ?? Number.NaN, 9);
      expect(Math.max(cusum.upper, cusum.lower)).toBeLessThan(10);
    });
  });

  it('stops at its maximum', () => {
    const cusum = startCusum();
    // 5, then 5 + 5 stopped at 8; back by 4 below the target less the slack of 1: 8 − 4 − 1 = 3
    for (const value of [105, 105, 95]) addToCusum(cusum, value, 99, 1, 8);
    expect([cusum.upper, cusum.lower]).toEqual([3, 3]);
  });
});

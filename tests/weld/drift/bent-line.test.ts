import { expect, test } from 'vitest';
import { bentLine } from '../../../shared/weld/ahead/bent-line.js';
import { seededRandom } from '../../model/seeded-random.js';

const means = (values: readonly number[], every = 1) => values.map((value, n) => ({ at: n * every + 0.5, value }));
const bent = (count: number, since: number, slope: number) => Array.from({ length: count }, (_, n) => 30 + slope * Math.max(0, n - since));

test('a level that bends into a drift comes out exactly', () => {
  // 30 up to the value at 20.5 s, then 0.1 a second for 39 s: 33.9 at the last one
  const line = bentLine(means(bent(60, 20, 0.1)), 15);
  expect(line?.since).toBeCloseTo(20.5, 9);
  expect(line?.slope).toBeCloseTo(0.1, 9);
  expect(line?.level).toBeCloseTo(33.9, 9);
  expect(line?.newest).toBeCloseTo(0, 9);
});

test('values two seconds apart drift half as fast', () => {
  const line = bentLine(means(bent(40, 10, -0.1), 2), 15);
  expect(line?.slope).toBeCloseTo(-0.05, 9);
  expect(line?.since).toBeCloseTo(20.5, 9);
});

test('neither a step nor a constant value is a drift', () => {
  expect(bentLine(means(Array.from({ length: 60 }, (_, n) => (n < 35 ? 30 : 31))), 15)).toBeNull();
  expect(bentLine(means(new Array<number>(60).fill(30)), 15)).toBeNull();
  expect(bentLine(means(bent(10, 0, 0.1)), 15)).toBeNull();
  expect(bentLine([], 15)).toBeNull();
});

test('the fit is the one of least squares over all places where the drift may begin', () => {
  // Independent: for each place the normal equations of value = a + b·regressor, solved by Cramer's rule, and the squares left over added up.
  const random = seededRandom(5);
  for (let round = 0; round < 50; round += 1) {
    const values = means(bent(40, random.whole(0, 20), random.between(0.05, 0.2)).map((value) => value + random.pick([-0.1, 0.1])));
    let best = { left: Infinity, slope: 0, since: 0 };
    for (let onset = 0; onset < 39; onset += 1) {
      const since = values[onset]?.at ?? 0;
      if (39.5 - since < 15) continue;
      const points = values.map(({ at, value }) => [Math.max(0, at - since), value] as const);
      const total = (pick: (x: number, y: number) => number): number => points.reduce((sum, [x, y]) => sum + pick(x, y), 0);
      const [n, x, y, xx, xy] = [points.length, total((r) => r), total((_, v) => v), total((r) => r * r), total((r, v) => r * v)];
      const slope = (n * xy - x * y) / (n * xx - x * x);
      const level = (y - slope * x) / n;
      const left = total((r, v) => (v - level - slope * r) ** 2);
      if (left < best.left - 1e-12) best = { left, slope, since };
    }
    const line = bentLine(values, 15);
    expect(line?.since).toBeCloseTo(best.since, 9);
    // Every value is 0.1 off: at most the bend itself is clipped a little.
    expect(line?.slope).toBeCloseTo(best.slope, 3);
  }
});

test('an outlier moves the slope less than by least squares', () => {
  const noise = seededRandom(9);
  const values = bent(60, 0, 0.1).map((value) => value + noise.between(-0.1, 0.1));
  const spoilt = values.map((value, n) => (n === 50 ? value - 10 : value));
  const plain = bentLine(means(values), 15)?.slope ?? Number.NaN;
  const robust = bentLine(means(spoilt), 15)?.slope ?? Number.NaN;
  const [middle, squares] = [29.5, (60 * (60 * 60 - 1)) / 12];
  // Least squares over the whole would move by −10·(50 − 29.5)/17,995 = −0.0114.
  expect((-10 * (50 - middle)) / squares).toBeCloseTo(-0.0114, 4);
  expect(Math.abs(robust - plain)).toBeLessThan(0.0114 / 2);
});

/** Mean moving range over standard deviation, for ranges of two normal values, 2/√π; the handbooks print d2 = 1.128. */
export const rangeOverDeviation = 1.128;

export interface IndividualsChart {
  readonly mean: number;
  readonly meanRange: number;
  readonly upper: number;
  readonly lower: number;
}

/** Individuals chart: limits at the mean ± 3·(mean moving range)/d2 (NIST/SEMATECH e-Handbook 6.3.2.2). Null for fewer than two values. */
export function individualsChart(values: readonly number[]): IndividualsChart | null {
  if (values.length < 2) return null;
  let sum = 0;
  let ranges = 0;
  let before: number | null = null;
  for (const value of values) {
    sum += value;
    if (before !== null) ranges += Math.abs(value - before);
    before = value;
  }
  const mean = sum / values.length;
  const meanRange = ranges / (values.length - 1);
  const reach = (3 * meanRange) / rangeOverDeviation;
  return { mean, meanRange, upper: mean + reach, lower: mean - reach };
}

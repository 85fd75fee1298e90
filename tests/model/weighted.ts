import type { Statistics } from './plain-types.js';

export interface Weighted {
  readonly value: number;
  readonly weight: number;
}

export function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** Population figures weighted by time, in two passes; null if nothing has any weight. */
export function weigh(values: readonly Weighted[]): Statistics | null {
  const counted = values.filter((entry) => entry.weight > 0);
  const weight = sum(counted.map((entry) => entry.weight));
  if (weight === 0) return null;
  const mean = sum(counted.map((entry) => entry.value * entry.weight)) / weight;
  const variance = sum(counted.map((entry) => (entry.value - mean) ** 2 * entry.weight)) / weight;
  const extremes = counted.reduce(
    (seen, { value }) => ({ min: Math.min(seen.min, value), max: Math.max(seen.max, value) }),
    { min: Number.POSITIVE_INFINITY, max: Number.NEGATIVE_INFINITY },
  );
  return { mean, ...extremes, standardDeviation: Math.sqrt(variance) };
}

export function rootMeanSquare(values: readonly Weighted[]): number {
  const weight = sum(values.map((entry) => entry.weight));
  return Math.sqrt(sum(values.map((entry) => entry.value ** 2 * entry.weight)) / weight);
}

export function weightedMean(values: readonly Weighted[]): number {
  return sum(values.map(({ value, weight }) => value * weight)) / sum(values.map(({ weight }) => weight));
}

/**
 * The next value of an exponentially weighted moving average, z = λ·x + (1 − λ)·(the z before), with λ = `weight`, above 0 and up to 1. Source:
 * NIST/SEMATECH e-Handbook 6.3.2.4.
 */
export function nextEwma(before: number, value: number, weight: number): number {
  return before + weight * (value - before);
}

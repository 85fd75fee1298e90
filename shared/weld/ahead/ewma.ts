/**
 * The next value of an exponentially weighted moving average, z = λ·x + (1 − λ)·(the z before), with λ = `weight`, above 0 and up to 1. Source:
 * NIST/SEMATECH e-Handbook 6.3.2.4.
 */
export function nextEwma(before: number, value: number, weight: number): number {
  return before + weight * (value - before);
}

export interface EwmaLimits {
  readonly upper: number;
  readonly lower: number;
}

/**
 * Control limits of an EWMA chart that has run for long: target ± k·s·√(λ/(2 − λ)), where `deviation` is s, that of the single values (NIST/SEMATECH
 * e-Handbook 6.3.2.4, which uses k = 3).
 */
export function ewmaLimits(target: number, deviation: number, weight: number, k = 3): EwmaLimits {
  const reach = k * deviation * Math.sqrt(weight / (2 - weight));
  return { upper: target + reach, lower: target - reach };
}

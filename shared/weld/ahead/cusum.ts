/** A tabular CUSUM: how far the values have gone above and below their target. */
export interface Cusum {
  upper: number;
  lower: number;
}

export function startCusum(): Cusum {
  return { upper: 0, lower: 0 };
}

/**
 * Adds the next value: upper = max(0, x − (target + slack) + upper before), lower = max(0, (target − slack) − x + lower before) (Montgomery and
 * Runger, Applied Statistics and Probability for Engineers, 3e, 16-10; slack is their K). Both are capped at `most`, so that a long signal is
 * forgotten soon after it ends.
 */
export function addToCusum(cusum: Cusum, value: number, target: number, slack: number, most: number): void {
  cusum.upper = Math.min(most, Math.max(0, value - (target + slack) + cusum.upper));
  cusum.lower = Math.min(most, Math.max(0, target - slack - value + cusum.lower));
}

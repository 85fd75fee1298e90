import type { Random } from './random.js';

/** A fluctuation of standard deviation 1 that forgets itself over `memory` seconds (first-order autoregressive). */
export interface Noise {
  /** The value `seconds` after the previous one. */
  next(seconds: number): number;
}

export function createNoise(memory: number, random: Random): Noise {
  let value = random.normal();
  return {
    next: (seconds) => {
      // The exact discretisation: the spread does not depend on the step.
      const kept = Math.exp(-seconds / memory);
      value = kept * value + Math.sqrt(1 - kept * kept) * random.normal();
      return value;
    },
  };
}

/**
 * Standard deviation of the mean over `seconds` of such a fluctuation: what a sensor still shows of it that averages
 * from one reading to the next. Exact for an exponential autocorrelation.
 */
export function averagedDeviation(memory: number, seconds: number): number {
  const ratio = memory / seconds;
  return Math.sqrt(2 * ratio * (1 - ratio * (1 - Math.exp(-1 / ratio))));
}

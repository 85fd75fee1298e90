/** How an arc's current and voltage alternate. */
export interface Alternation {
  readonly shape: 'square' | 'sine';
  /** Hz. */
  readonly frequency: number;
  /** Degrees by which the current is behind the voltage. */
  readonly lag: number;
}

/** Rounding must not move the edges of a square wave that lie on samples: a share of half a period. */
const edge = 1e-6;

/** The value `time` s after a rise through zero of the voltage, for an RMS value of 1, with the wave `lag` degrees late. */
export function waveAt({ shape, frequency }: Alternation, time: number, lag: number): number {
  const halfPeriods = 2 * frequency * time - lag / 180;
  if (shape === 'sine') return Math.SQRT2 * Math.sin(Math.PI * halfPeriods);
  return Math.floor(halfPeriods + edge) % 2 === 0 ? 1 : -1;
}

/**
 * Mean power over the product of the RMS values: cos φ for sines; for square waves the share of time with equal signs less that with opposite ones,
 * 1 − φ/90° (0 ≤ φ ≤ 180°). Exact.
 */
export function powerFactorOf({ shape, lag }: Alternation): number {
  return shape === 'sine' ? Math.cos((lag * Math.PI) / 180) : 1 - lag / 90;
}

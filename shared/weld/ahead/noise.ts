/** How far means lie from the midpoint of their neighbours, 1 and 4 places away: a drift adds nothing to that. */
export interface Noise {
  near: number;
  nears: number;
  far: number;
  fars: number;
}

const farAway = 4;
const memory = 60;
/** The least correlation that is assumed between neighbouring one-second means of an arc; tuned (tests/bench/README.md), no source. */
const leastCorrelation = 0.4;
const mostCorrelation = 0.8;
/** Share of the level that always counts as noise: no sensor resolves less. Common practice, no source. */
const leastNoise = 5e-4;

export function startNoise(): Noise {
  return { near: 0, nears: 0, far: 0, fars: 0 };
}

/** Adds the distances that become known with the newest mean. */
export function noteBends(noise: Noise, means: readonly { readonly value: number }[]): void {
  const near = bend(means, 1);
  if (near !== null) {
    noise.nears = Math.min(noise.nears + 1, memory);
    noise.near += (near - noise.near) / noise.nears;
  }
  const far = bend(means, farAway);
  if (far !== null) {
    noise.fars = Math.min(noise.fars + 1, memory);
    noise.far += (far - noise.far) / noise.fars;
  }
}

function bend(means: readonly { readonly value: number }[], reach: number): number | null {
  const late = means[means.length - 1];
  const middle = means[means.length - 1 - reach];
  const early = means[means.length - 1 - 2 * reach];
  return late === undefined || middle === undefined || early === undefined ? null : Math.abs(middle.value - (early.value + late.value) / 2);
}

/** Standard deviation of the means about their drift, and that with which their sums grow: noise that persists for seconds averages out slowly. */
export function noiseOf({ near, far }: Noise, level: number): { readonly deviation: number; readonly longRun: number } {
  // x − (a + b)/2 has 1.5 times the variance of independent values, and E|x| = σ·√(2/π) for normal ones.
  const deviation = Math.max(Math.abs(level) * leastNoise, far * Math.sqrt(Math.PI / 2 / 1.5), Number.MIN_VALUE);
  // Where the correlation falls off as ρ, ρ² and is 0 at 4 places, (near/far)² = (1.5 − 2ρ + ρ²/2)/1.5.
  const ratio = far > 0 ? (near / far) ** 2 : 1;
  const correlation = Math.min(mostCorrelation, Math.max(leastCorrelation, 2 - Math.sqrt(1 + 3 * ratio)));
  return { deviation, longRun: deviation * Math.sqrt((1 + correlation) / (1 - correlation)) };
}

/**
 * d2 for ranges of two values: the mean of |xᵢ − xᵢ₋₁| of normally distributed values is 1.128 standard deviations (NIST/SEMATECH e-Handbook 6.3.2.2;
 * exactly 2/√π = 1.12838, which the handbooks and their examples round to three decimals).
 */
const d2 = 1.128;

/** Control limits lie so many deviations from the mean (Shewhart; NIST/SEMATECH e-Handbook 6.3.2). */
const limitWidth = 3;

/** So many values in a row on one side of the mean are a signal (Western Electric rules, NIST/SEMATECH e-Handbook 6.3.2). */
const longestSide = 8;

/** An individuals chart of values in their order, all in the unit of the values. `standardDeviation` has the divisor n − 1. */
export interface ControlChart {
  readonly mean: number;
  readonly standardDeviation: number;
  /** Mean of |xᵢ − xᵢ₋₁|. */
  readonly movingRange: number;
  /** The deviation from one run to the next, movingRange / d2. */
  readonly spread: number;
  /** mean ∓ 3 · spread */
  readonly limits: { readonly lower: number; readonly upper: number };
  readonly signals: readonly ChartSignal[];
}

/** `limit`: one value beyond a control limit. `side`: a stretch of eight or more values strictly on one side of the mean. */
export interface ChartSignal {
  readonly rule: 'limit' | 'side';
  /** Indexes of the values. */
  readonly places: readonly number[];
}

/** Mean of at least one value. Equal values have exactly that mean. */
export function meanOf(values: readonly number[]): number {
  const origin = values[0] ?? Number.NaN;
  return origin + values.reduce((sum, value) => sum + (value - origin), 0) / values.length;
}

/** The chart of values in their order; null for fewer than two, of which no spread is known. */
export function controlChart(values: readonly number[]): ControlChart | null {
  if (values.length < 2) return null;
  const mean = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const ranges = values.slice(1).reduce((sum, value, before) => sum + Math.abs(value - (values[before] ?? value)), 0);
  const movingRange = ranges / (values.length - 1);
  const spread = movingRange / d2;
  const limits = { lower: mean - limitWidth * spread, upper: mean + limitWidth * spread };
  return {
    mean, standardDeviation: Math.sqrt(squares / (values.length - 1)), movingRange, spread, limits,
    signals: [...beyondLimits(values, limits), ...onOneSide(values, mean)],
  };
}

/** The rounding error of a mean or limit is no distance from it. */
function roundingOf(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, Math.abs(value)), 0) * 1e-13;
}

function beyondLimits(values: readonly number[], { lower, upper }: ControlChart['limits']): ChartSignal[] {
  const rounding = roundingOf(values);
  return values.flatMap((value, at) => (value > upper + rounding || value < lower - rounding ? [{ rule: 'limit' as const, places: [at] }] : []));
}

function onOneSide(values: readonly number[], mean: number): ChartSignal[] {
  const rounding = roundingOf(values);
  const sideOf = (value: number): number => (Math.abs(value - mean) <= rounding ? 0 : Math.sign(value - mean));
  const signals: ChartSignal[] = [];
  let places: number[] = [];
  let side = 0;
  const close = (): void => {
    if (side !== 0 && places.length >= longestSide) signals.push({ rule: 'side', places });
  };
  for (const [at, value] of values.entries()) {
    const own = sideOf(value);
    if (own === side) {
      places.push(at);
      continue;
    }
    close();
    side = own;
    places = [at];
  }
  close();
  return signals;
}

/** A window around a mean: as computed, and rounded inwards so that it allows nothing outside the computed one. */
export interface MeanWindow {
  readonly low: number;
  readonly high: number;
  readonly usableLow: number;
  readonly usableHigh: number;
}

/**
 * How far essential variables of a procedure may lie from the mean of its qualification before it has to be qualified again, per cent:
 * AWS D1.1:2015, Table 4.5, for submerged arc. These are proposals that a person confirms; they are never applied automatically.
 */
export const proposedPercent: Readonly<Record<string, number>> = { current: 10, voltage: 7, travelSpeed: 15, wireFeedSpeed: 10 };

/**
 * `mean` ± `percent`, rounded inwards to that many decimals: 234.8 A ± 10 % is 211.32 to 258.28, usable 212 to 258. Null if no window is left or
 * the input does not give one.
 */
export function windowAround(mean: number, percent: number, decimals: number): MeanWindow | null {
  if (!(mean > 0) || !(percent >= 0 && percent < 100)) return null;
  const low = clean((mean * (100 - percent)) / 100);
  const high = clean((mean * (100 + percent)) / 100);
  const scale = 10 ** decimals;
  const usableLow = Math.ceil(clean(low * scale)) / scale;
  const usableHigh = Math.floor(clean(high * scale)) / scale;
  return usableLow <= usableHigh ? { low, high, usableLow, usableHigh } : null;
}

/** Without what binary fractions leave behind: 30 V + 7 % is 32.1 V. */
function clean(value: number): number {
  return Number(value.toPrecision(12));
}

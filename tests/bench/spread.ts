/** The value below which `share` of them lie (nearest rank); NaN without values. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(sorted.length * share) - 1)] ?? Number.NaN;
}

/** The middle value, of an even number the mean of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.ceil(half) - 1] ?? Number.NaN) + (sorted[Math.floor(half)] ?? Number.NaN)) / 2;
}

/** `median (least to greatest)`. */
export function spread(values: readonly number[], places = 0): string {
  if (values.length === 0) return '–';
  const shown = (value: number): string => value.toLocaleString('en', { minimumFractionDigits: places, maximumFractionDigits: places });
  if (values.length === 1) return shown(median(values));
  return `${shown(median(values))} (${shown(Math.min(...values))} to ${shown(Math.max(...values))})`;
}

/** The ratios of what was measured one after the other, round by round. */
export function ratios(own: readonly number[], other: readonly number[]): number[] {
  return own.slice(0, other.length).map((value, round) => value / (other[round] ?? Number.NaN));
}

/** The text for a missing value. */
export const noValue = '–';

const narrowSpace = '\u202f';

/**
 * A number with that many decimals: a real minus sign, no minus before a zero, and narrow spaces between groups of three
 * digits from five digits before the point on (ISO 80000-1, 7.3.2). No value where it is null or not finite.
 */
export function formatNumber(value: number | null | undefined, decimals: number): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return noValue;
  const [whole = '0', part] = Math.abs(value).toFixed(decimals).split('.');
  const grouped = whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, narrowSpace);
  const digits = part === undefined ? grouped : `${grouped}.${part}`;
  return value < 0 && /[1-9]/.test(digits) ? `\u2212${digits}` : digits;
}

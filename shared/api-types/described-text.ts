/**
 * Patterns for the description that say which texts are accepted, so that people who read only the description send the right ones. They are not checked: what is
 * accepted is decided by `readDeviceTime` and `isPrintable`.
 */

/** The end of 2106, ms since 1970. */
export const latestMilliseconds = 4_323_283_199_999;

const leapYear = '(19(7[26]|8[048]|9[26])|20([02468][048]|[13579][26])|2104)';
const year = '(19[7-9]\\d|20\\d\\d|210[0-6])';
const date = `(${year}-((0[13578]|1[02])-(0[1-9]|[12]\\d|3[01])|(0[469]|11)-(0[1-9]|[12]\\d|30)|02-(0[1-9]|1\\d|2[0-8]))|${leapYear}-02-29)`;
const hourMinute = '([01]\\d|2[0-3]):[0-5]\\d';

/** Only in UTC, since an offset may lead out of these years on their first and their last day. */
const inUtcAlone = '(?!1970-01-01.*\\+|2106-12-31.{9,}-)';
/** RFC 3339 from 1970 to 2106; leap seconds, and times that only their offset brings into these years, are left to the service. */
export const timePattern = `^${inUtcAlone}${date}[Tt ]${hourMinute}:[0-5]\\d(\\.\\d+)?([Zz]|[+-]${hourMinute})$`;
/** The same, or nothing. */
export const maybeTimePattern = `^$|${timePattern}`;

/** First and last code points that are not printable: general categories Cc, Cf, Zl and Zp of Unicode, and surrogates, which JSON cannot carry alone. */
const unprintable: readonly (readonly [number, number])[] = [
  [0x0, 0x1f], [0x7f, 0x9f], [0xad, 0xad], [0x600, 0x605], [0x61c, 0x61c], [0x6dd, 0x6dd], [0x70f, 0x70f], [0x890, 0x891], [0x8e2, 0x8e2], [0x180e, 0x180e],
  [0x200b, 0x200f], [0x2028, 0x202e], [0x2060, 0x2064], [0x2066, 0x206f], [0xfeff, 0xfeff], [0xfff9, 0xfffb], [0x110bd, 0x110bd], [0x110cd, 0x110cd],
  [0x13430, 0x1343f], [0x1bca0, 0x1bca3], [0x1d173, 0x1d17a], [0xe0001, 0xe0001], [0xe0020, 0xe007f],
];

const written = (point: number): string => String.fromCodePoint(point);

/** `low` to `high` printable characters. */
export function printablePattern(low: number, high: number): string {
  return `^[^${unprintable.map(([from, to]) => (from === to ? written(from) : `${written(from)}-${written(to)}`)).join('')}]{${low},${high}}$`;
}

/** The first instant that is too late to be accepted: 2107-01-01T00:00:00Z, whole microseconds since 1970. */
const timeLimit = Date.UTC(2107, 0, 1) * 1000;

/** What `readDeviceTime` accepts, in words. */
export const timeTaken = 'Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106';

/**
 * Device time as whole microseconds since 1970: from Unix milliseconds (fractions allowed) or RFC 3339 text with any offset and any number of
 * fraction digits, rounded to the nearest. The error is at most 0.5 µs, and for numbers also the 0.12 µs to which a double can represent milliseconds
 * of today. NaN for what is not accepted.
 */
export function readDeviceTime(value: unknown): number {
  let time = Number.NaN;
  // Adding zero turns -0 into 0.
  if (typeof value === 'number') time = value >= 0 ? Math.round(value * 1000) + 0 : Number.NaN;
  else if (typeof value === 'string') time = readRfc3339(value);
  return isTakenTime(time) ? time : Number.NaN;
}

/** Whether a time in whole microseconds since 1970 lies in the accepted range. */
export function isTakenTime(time: number): boolean {
  return time >= 0 && time < timeLimit;
}

// RFC 3339, section 5.6: the letters may be lower case, and a space may replace the T. Years that no offset can bring into the range are excluded
// before `Date.UTC`, which would read the years 0 to 99 as 1900 to 1999. The text is read digit by digit, since it comes with every reading: a
// pattern takes several times as long.
function readRfc3339(text: string): number {
  const year = readDigits(text, 0, 4);
  const month = readDigits(text, 5, 2);
  const day = readDigits(text, 8, 2);
  const hour = readDigits(text, 11, 2);
  const minute = readDigits(text, 14, 2);
  const second = readDigits(text, 17, 2);
  if (text[4] !== '-' || text[7] !== '-' || text[13] !== ':' || text[16] !== ':' || !isOneOf(text[10], 'Tt ')) return Number.NaN;
  let zoneAt = 19;
  if (text[19] === '.') {
    zoneAt = 20;
    while (isDigit(text.charCodeAt(zoneAt))) zoneAt += 1;
    if (zoneAt === 20) return Number.NaN;
  }
  const offset = readOffset(text, zoneAt);
  // NaN is neither below nor above anything, so every part is tested for lying within its range.
  if (!(year >= 1969 && month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month))) return Number.NaN;
  if (!(hour <= 23 && minute <= 59 && second <= 60) || Number.isNaN(offset)) return Number.NaN;
  const whole = Date.UTC(year, month - 1, day, hour, minute, second) - offset;
  if (second === 60 && !followsLeapSecond(whole)) return Number.NaN;
  return whole * 1000 + readFraction(text, 20, zoneAt);
}

/** The offset from UTC at the end of a text, ms. */
function readOffset(text: string, at: number): number {
  const sign = text[at];
  if (isOneOf(sign, 'Zz')) return text.length === at + 1 ? 0 : Number.NaN;
  if (!isOneOf(sign, '+-') || text.length !== at + 6 || text[at + 3] !== ':') return Number.NaN;
  const hour = readDigits(text, at + 1, 2);
  const minute = readDigits(text, at + 4, 2);
  return hour <= 23 && minute <= 59 ? (sign === '-' ? -1 : 1) * (hour * 60 + minute) * 60_000 : Number.NaN;
}

function isOneOf(letter: string | undefined, letters: string): boolean {
  return letter !== undefined && letters.includes(letter);
}

function isDigit(unit: number): boolean {
  return unit >= 0x30 && unit <= 0x39;
}

/** Reads `count` digits as a number; NaN where one of them is not a digit. */
function readDigits(text: string, at: number, count: number): number {
  let value = 0;
  for (let index = at; index < at + count; index += 1) {
    const unit = text.charCodeAt(index);
    if (!isDigit(unit)) return Number.NaN;
    value = 10 * value + (unit - 0x30);
  }
  return value;
}

// RFC 3339, section 5.7: second 60 occurs only at the end of a month in UTC. POSIX time has no place for it, so it is read as the second after it.
function followsLeapSecond(next: number): boolean {
  const date = new Date(next);
  return date.getUTCDate() === 1 && next % 86_400_000 === 0;
}

/** Reads the digits between two places as a fraction of a second, µs, rounded to the nearest. */
function readFraction(text: string, from: number, to: number): number {
  const count = Math.min(to - from, 6);
  if (count <= 0) return 0;
  const micros = readDigits(text, from, count) * 10 ** (6 - count);
  return to - from > 6 && text.charCodeAt(from + 6) >= 0x35 ? micros + 1 : micros;
}

const daysInMonth = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

function daysIn(year: number, month: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return month === 2 && leap ? 29 : (daysInMonth[month - 1] ?? 0);
}

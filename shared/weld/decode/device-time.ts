/** First instant that is no longer taken: 2107-01-01T00:00:00Z, whole microseconds since 1970. */
const timeLimit = Date.UTC(2107, 0, 1) * 1000;

/** What `readDeviceTime` takes, in words. */
export const timeTaken = 'Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106';

const rfc3339 =
  /^(\d{4})-(\d{2})-(\d{2})[Tt ](\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?(?:[Zz]|([+-])(\d{2}):(\d{2}))$/;

/**
 * Device time as whole microseconds since 1970: from Unix milliseconds (fractions allowed) or RFC 3339 text with any
 * offset and any number of fraction digits, rounded to the nearest. Error at most 0.5 µs, and for numbers also the
 * 0.12 µs to which a double can hold milliseconds of today. NaN for what is not taken.
 */
export function readDeviceTime(value: unknown): number {
  let time = Number.NaN;
  // Adding zero turns -0 into 0.
  if (typeof value === 'number') time = value >= 0 ? Math.round(value * 1000) + 0 : Number.NaN;
  else if (typeof value === 'string') time = readRfc3339(value);
  return isTakenTime(time) ? time : Number.NaN;
}

/** Whether a time in whole microseconds since 1970 lies in the range that is taken. */
export function isTakenTime(time: number): boolean {
  return time >= 0 && time < timeLimit;
}

// RFC 3339, section 5.6: the letters may be small, a space may stand for the T. Years that no offset can bring into the
// range are left out before `Date.UTC`, which would take the years 0 to 99 as 1900 to 1999.
function readRfc3339(text: string): number {
  const parts = rfc3339.exec(text);
  if (parts === null) return Number.NaN;
  const number = (index: number): number => Number(parts[index] ?? 0);
  const [year, month, day] = [number(1), number(2), number(3)];
  const [hour, minute, second] = [number(4), number(5), number(6)];
  const [offsetHour, offsetMinute] = [number(9), number(10)];
  if (year < 1969 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month)) return Number.NaN;
  if (hour > 23 || minute > 59 || second > 60 || offsetHour > 23 || offsetMinute > 59) return Number.NaN;
  const offset = (parts[8] === '-' ? -1 : 1) * (offsetHour * 60 + offsetMinute) * 60_000;
  const whole = Date.UTC(year, month - 1, day, hour, minute, second) - offset;
  if (second === 60 && !followsLeapSecond(whole)) return Number.NaN;
  return whole * 1000 + readFraction(parts[7] ?? '');
}

// RFC 3339, section 5.7: 60 only at the end of a month in UTC. POSIX time has no place for it: it is the second after.
function followsLeapSecond(next: number): boolean {
  const date = new Date(next);
  return date.getUTCDate() === 1 && next % 86_400_000 === 0;
}

function readFraction(digits: string): number {
  const micros = Number(digits.slice(0, 6).padEnd(6, '0'));
  return digits.length > 6 && digits.charCodeAt(6) >= 0x35 ? micros + 1 : micros;
}

function daysIn(year: number, month: number): number {
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}

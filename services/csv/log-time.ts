import { isTakenTime, readDeviceTime, timeTaken } from '../../shared/weld/decode/device-time.js';

/** How a log gives its times; the first usable line decides for all. */
export type TimeKind = 'relative' | 'unixSeconds' | 'unixMilliseconds' | 'rfc3339';

const kindInWords: Readonly<Record<TimeKind, string>> = {
  relative: 's from the zero of the log',
  unixSeconds: 's since 1970',
  unixMilliseconds: 'ms since 1970',
  rfc3339: 'RFC 3339 text',
};

// Seconds since 1970 have been above 1e8 since 1973 and stay below 1e10 beyond 2106; milliseconds passed 1e10 in April 1970.
const relativeBelow = 1e8;
const secondsBelow = 1e10;

export interface LogTimes {
  /** Whole microseconds since 1970, or the reason why the text is refused. */
  read(text: string, number: number): number | string;
  /** Null until a time has been read. */
  kind(): TimeKind | null;
}

/**
 * Reads the times of one log: s from an arbitrary zero (below 1e8), s or ms since 1970, or RFC 3339 text. Relative times
 * are added to `start` (ms since 1970), or to 1970-01-01 where it is null. Error at most 0.5 µs.
 */
export function createLogTimes(start: number | null): LogTimes {
  let kind: TimeKind | null = null;
  const zero = start === null ? 0 : Math.round(start * 1000);
  return {
    read: (text, number) => {
      const own = kindOf(number);
      const refused = (takes: string): string => `time ${JSON.stringify(text.slice(0, 64))}: expected ${takes}`;
      const time = timeOf(own, text, number, zero);
      if (!isTakenTime(time)) {
        return refused(own === 'relative' ? `s from the zero of the log, at a time between 1970 and 2106 (zero here: ${zeroInWords(start)})` : `s from the zero of the log, s since 1970, or ${timeTaken}`);
      }
      kind ??= own;
      return kind === own ? time : refused(`${kindInWords[kind]}, as in the first line`);
    },
    kind: () => kind,
  };
}

function kindOf(number: number): TimeKind {
  if (Number.isNaN(number)) return 'rfc3339';
  if (Math.abs(number) < relativeBelow) return 'relative';
  return Math.abs(number) < secondsBelow ? 'unixSeconds' : 'unixMilliseconds';
}

function timeOf(kind: TimeKind, text: string, number: number, zero: number): number {
  switch (kind) {
    case 'relative': return zero + Math.round(number * 1e6) + 0;
    case 'unixSeconds': return Math.round(number * 1e6);
    case 'unixMilliseconds': return Math.round(number * 1000);
    case 'rfc3339': return readDeviceTime(text.trim());
  }
}

function zeroInWords(start: number | null): string {
  return start === null ? '1970-01-01, as no start is given' : new Date(start).toISOString();
}

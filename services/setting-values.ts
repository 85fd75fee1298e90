import { isIP } from 'node:net';

/** A setting that stops the start. Its message is one line: the setting, what it got, what was expected. */
export class SettingsError extends Error {
  override readonly name = 'SettingsError';
}

/** What one setting accepts, in words, and how its text is read; undefined if it is not accepted. */
export interface SettingKind<T> {
  readonly takes: string;
  read(text: string): T | undefined;
}

const longestShown = 120;

/** The text in quotes on one line, cut if it is long, without a password that an address may contain. */
export function quotedSetting(text: string): string {
  const open = text.replace(/\/\/[^/]*@/, '//***@');
  return JSON.stringify(open.length > longestShown ? `${open.slice(0, longestShown)}…` : open);
}

export function wrongSetting(name: string, text: string, takes: string): SettingsError {
  return new SettingsError(`${name}: got ${quotedSetting(text)}, expected ${takes}`);
}

export function wholeNumber(low: number, high: number): SettingKind<number> {
  return {
    takes: `a whole number from ${low} to ${high}`,
    read: (text) => (/^\d{1,15}$/.test(text) ? within(Number(text), low, high) : undefined),
  };
}

/** A decimal number in `unit`. */
export function decimalNumber(low: number, high: number, unit: string): SettingKind<number> {
  return numberLike(/^\d{1,15}(\.\d{1,15})?$/, low, high, unit);
}

/** A decimal number in `unit` that may be negative. */
export function signedNumber(low: number, high: number, unit: string): SettingKind<number> {
  return numberLike(/^-?\d{1,15}(\.\d{1,15})?$/, low, high, unit);
}

function numberLike(form: RegExp, low: number, high: number, unit: string): SettingKind<number> {
  return { takes: `a number from ${low} to ${high} (${unit})`, read: (text) => (form.test(text) ? within(Number(text), low, high) : undefined) };
}

function within(value: number, low: number, high: number): number | undefined {
  return value >= low && value <= high ? value : undefined;
}

export const folderSetting: SettingKind<string> = {
  takes: 'the path of a folder',
  read: (text) => (text === '' || text.includes('\0') ? undefined : text),
};

export const hostSetting: SettingKind<string> = {
  takes: 'a host name or an IP address',
  read: (text) => (isHost(text) ? text : undefined),
};

/** Anybody who reaches the pages may change what a carriage welds, so without accounts nobody from outside may reach them. */
export const loopbackSetting: SettingKind<string> = {
  takes: 'a loopback address (127.0.0.1, ::1 or localhost), because nobody has an account here and so nobody outside this machine may be answered',
  read: (text) => (isLoopback(text) ? text : undefined),
};

/** Whether a name or address is this machine and cannot be reached from outside it (RFC 1122 section 3.2.1.3, RFC 4291 section 2.5.3, RFC 6761 section 6.3). */
export function isLoopback(host: string): boolean {
  return host.toLowerCase() === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'));
}

export const brokerSetting: SettingKind<string | null> = {
  takes: 'mqtt://HOST:PORT or mqtts://HOST:PORT, or nothing for the embedded broker',
  read: (text) => (text === '' ? null : isBrokerAddress(text) ? text : undefined),
};

export const timeZoneSetting: SettingKind<string> = {
  takes: 'an IANA time zone such as Europe/Berlin',
  read: (text) => (isTimeZone(text) ? text : undefined),
};

/** A shift of the plant: when it begins, by the clocks there. */
export interface Shift {
  /** Null if it has only its times. */
  readonly name: string | null;
  /** `06:00`. */
  readonly begins: string;
}

const mostShifts = 12;

export const shiftsSetting: SettingKind<readonly Shift[]> = {
  takes: `the times of day at which shifts begin, such as 06:00,14:00,22:00 or early=06:00,late=14:00,night=22:00 (at most ${mostShifts}, each time and each name once), or nothing for none`,
  read: readShifts,
};

/** In the order of the day, whatever order they were given in. */
function readShifts(text: string): readonly Shift[] | undefined {
  if (text === '') return [];
  const shifts = text.split(',').map((part) => /^\s*(?:([^=,\p{C}]{1,32}?)\s*=\s*)?((?:[01]\d|2[0-3]):[0-5]\d)\s*$/u.exec(part));
  const found = shifts.flatMap((own) => (own === null ? [] : [{ name: own[1] ?? null, begins: own[2] ?? '' }]));
  const names = found.flatMap(({ name }) => (name === null ? [] : [name]));
  const isOnce = new Set(found.map(({ begins }) => begins)).size === found.length && new Set(names).size === names.length;
  return found.length === shifts.length && found.length <= mostShifts && isOnce ? found.sort((a, b) => (a.begins < b.begins ? -1 : 1)) : undefined;
}

function isHost(text: string): boolean {
  if (isIP(text) !== 0) return true;
  const labels = text.split('.');
  // RFC 1123 section 2.1; a name whose last label is a number is probably a mistyped address.
  return text.length <= 253 && labels.every((label) => /^[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?$/.test(label)) && !/^\d+$/.test(labels.at(-1) ?? '');
}

function isBrokerAddress(text: string): boolean {
  if (!/^mqtts?:\/\//.test(text) || !URL.canParse(text)) return false;
  const { hostname, pathname, search, hash } = new URL(text);
  return hostname !== '' && (pathname === '' || pathname === '/') && search === '' && hash === '';
}

function isTimeZone(text: string): boolean {
  // Newer engines also accept offsets such as +01:00, which have no daylight saving time.
  if (!/^[A-Za-z]/.test(text)) return false;
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return true;
  } catch {
    return false;
  }
}

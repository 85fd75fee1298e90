import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { defaultWeldSettings, type WeldSettings } from '../shared/weld/weld-settings.js';
import { dotenvText, parseDotenv } from './dotenv-text.js';
import { nearestName } from './nearest-name.js';
import * as kinds from './setting-values.js';
import type { SettingKind } from './setting-values.js';

export { SettingsError } from './setting-values.js';

/** Everything that the environment decides, checked and frozen. */
export interface Settings {
  /** Absolute. */
  readonly dataDir: string;
  readonly httpHost: string;
  readonly httpPort: number;
  /** An outside broker, or null where the embedded one runs. */
  readonly mqttUrl: string | null;
  readonly mqttHost: string;
  readonly mqttPort: number;
  /** IANA zone in which weeks and shifts begin. */
  readonly timeZone: string;
  /** In the order of the day; empty if the plant counts by days of the calendar. */
  readonly shifts: readonly kinds.Shift[];
  readonly weld: WeldSettings;
  /** µs of arrival time after a run's end in which late items still revise it. */
  readonly lateFor: number;
}

const prefix = 'SEAMWARDEN_';
const port = kinds.wholeNumber(0, 65_535);
const span = kinds.decimalNumber(0.1, 604_800, 's');

const known = {
  SEAMWARDEN_DATA_DIR: kinds.folderSetting,
  SEAMWARDEN_HTTP_HOST: kinds.loopbackSetting,
  SEAMWARDEN_HTTP_PORT: port,
  SEAMWARDEN_MQTT_URL: kinds.brokerSetting,
  SEAMWARDEN_MQTT_HOST: kinds.hostSetting,
  SEAMWARDEN_MQTT_PORT: port,
  SEAMWARDEN_TIME_ZONE: kinds.timeZoneSetting,
  SEAMWARDEN_SHIFTS: kinds.shiftsSetting,
  SEAMWARDEN_MAX_HOLD: kinds.decimalNumber(0.001, 60, 's'),
  SEAMWARDEN_ARC_ON_CURRENT: kinds.decimalNumber(0, 5000, 'A'),
  SEAMWARDEN_ARC_ON_VOLTAGE: kinds.decimalNumber(0, 500, 'V'),
  SEAMWARDEN_ARC_OFF_CURRENT: kinds.decimalNumber(0, 5000, 'A'),
  SEAMWARDEN_RUN_END_AFTER: span,
  SEAMWARDEN_LATE_FOR: kinds.decimalNumber(0, 604_800, 's'),
  SEAMWARDEN_TEMPERATURE_AGE: kinds.decimalNumber(0, 604_800, 's'),
  SEAMWARDEN_AMBIENT: kinds.signedNumber(-60, 100, '°C'),
} as const;

type Name = keyof typeof known;
type Value<N extends Name> = (typeof known)[N] extends SettingKind<infer T> ? T : never;

/** The names of all settings. */
export const settingNames: readonly string[] = Object.keys(known);

/**
 * Reads the settings from an environment and from the text of a `.env` file; the environment wins.
 * Throws a `SettingsError` for a value that is not accepted and for a name that is not known.
 */
export function readSettings(env: Readonly<Record<string, string | undefined>>, dotenv = ''): Settings {
  const given = { ...parseDotenv(dotenv), ...Object.fromEntries(Object.entries(env).filter(([, text]) => text !== undefined)) };
  refuseUnknown(Object.keys(given));
  const read = <N extends Name>(name: N, otherwise: Value<N>): Value<N> => {
    const text = given[name];
    if (text === undefined) return otherwise;
    const kind: SettingKind<unknown> = known[name];
    const value = kind.read(text.trim());
    if (value === undefined) throw kinds.wrongSetting(name, text, kind.takes);
    return value as Value<N>;
  };
  const fallback = defaultWeldSettings;
  const weld: WeldSettings = {
    ...fallback,
    maxHold: microseconds(read('SEAMWARDEN_MAX_HOLD', 1)),
    arcOnCurrent: read('SEAMWARDEN_ARC_ON_CURRENT', fallback.arcOnCurrent),
    arcOnVoltage: read('SEAMWARDEN_ARC_ON_VOLTAGE', fallback.arcOnVoltage),
    arcOffCurrent: read('SEAMWARDEN_ARC_OFF_CURRENT', fallback.arcOffCurrent),
    runEndAfter: microseconds(read('SEAMWARDEN_RUN_END_AFTER', 900)),
    temperatureAge: microseconds(read('SEAMWARDEN_TEMPERATURE_AGE', 300)),
    ambient: read('SEAMWARDEN_AMBIENT', fallback.ambient),
  };
  const { arcOnCurrent, arcOffCurrent } = weld;
  if (arcOffCurrent > arcOnCurrent) throw kinds.wrongSetting('SEAMWARDEN_ARC_OFF_CURRENT', String(arcOffCurrent), `a number that is at most SEAMWARDEN_ARC_ON_CURRENT (${arcOnCurrent} A)`);
  return Object.freeze({
    dataDir: resolve(read('SEAMWARDEN_DATA_DIR', './data')),
    httpHost: read('SEAMWARDEN_HTTP_HOST', '127.0.0.1'),
    httpPort: read('SEAMWARDEN_HTTP_PORT', 8080),
    mqttUrl: read('SEAMWARDEN_MQTT_URL', null),
    mqttHost: read('SEAMWARDEN_MQTT_HOST', '127.0.0.1'),
    mqttPort: read('SEAMWARDEN_MQTT_PORT', 1883),
    timeZone: read('SEAMWARDEN_TIME_ZONE', Intl.DateTimeFormat().resolvedOptions().timeZone),
    shifts: Object.freeze(read('SEAMWARDEN_SHIFTS', [])),
    weld: Object.freeze(weld),
    lateFor: microseconds(read('SEAMWARDEN_LATE_FOR', 900)),
  });
}

/** The settings of this process, with the `.env` file of the folder if there is one. */
export function loadSettings(folder = '.'): Settings {
  return readSettings(process.env, dotenvOf(folder));
}

function dotenvOf(folder: string): string {
  try {
    return dotenvText(readFileSync(resolve(folder, '.env')));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return '';
    if (error instanceof kinds.SettingsError) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new kinds.SettingsError(`.env: cannot be read (${reason.replaceAll('\n', ' ')}), expected a text file of NAME=VALUE lines`);
  }
}

function refuseUnknown(names: readonly string[]): void {
  for (const name of names) {
    if (!name.toUpperCase().startsWith(prefix) || settingNames.includes(name)) continue;
    throw new kinds.SettingsError(`${kinds.quotedSetting(name).slice(1, -1)}: not a setting, the nearest is ${nearestName(name.toUpperCase(), settingNames)}`);
  }
}

function microseconds(seconds: number): number {
  return Math.round(seconds * 1e6);
}

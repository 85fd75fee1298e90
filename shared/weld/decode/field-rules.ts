import { missingValue, wrongValue } from './decoded.js';
import { readDeviceTime, timeTaken } from './device-time.js';
import { isPrintable } from './printable.js';

export type Raw = Readonly<Record<string, unknown>>;
/** Gives the value to keep, or undefined for one that is not accepted. */
export interface Rule {
  readonly taken: string;
  readonly read: (value: unknown) => unknown;
}

const longestText = 128;

export function text(): Rule {
  return {
    taken: `text of 1 to ${longestText} printable characters`,
    read: (value) => (typeof value === 'string' && isPrintable(value, longestText) ? value : undefined),
  };
}

export function between(low: number, high: number, unit: string): Rule {
  return {
    taken: `a number from ${low} to ${high} (${unit})`,
    read: (value) => (typeof value === 'number' && value >= low && value <= high ? value + 0 : undefined),
  };
}

export function above(low: number, high: number, unit: string): Rule {
  return {
    taken: `a number above ${low} and up to ${high} (${unit})`,
    read: (value) => (typeof value === 'number' && value > low && value <= high ? value : undefined),
  };
}

export function whole(low: number, high: number): Rule {
  return {
    taken: `an integer from ${low} to ${high}`,
    read: (value) => (typeof value === 'number' && Number.isInteger(value) && value >= low && value <= high ? value : undefined),
  };
}

/** A time as carriages and people write it; kept as whole µs since 1970. */
export function time(): Rule {
  return {
    taken: timeTaken,
    read: (value) => {
      const read = readDeviceTime(value);
      return Number.isNaN(read) ? undefined : read;
    },
  };
}

export function oneOf(choices: readonly unknown[]): Rule {
  return {
    taken: choices.map((choice) => JSON.stringify(choice)).join(', '),
    read: (value) => (choices.includes(value) ? value : undefined),
  };
}

export interface FieldFailure {
  readonly ok: false;
  readonly field: string;
  readonly reason: string;
}

export type Kept<T> = { readonly ok: true; readonly kept: T } | FieldFailure;

/** Reads the given fields by their rules. Null, and empty text where it is not required, count as absent; unknown fields are ignored. */
export function readFields<T extends object>(raw: Raw, fields: Readonly<Record<string, Rule>>, required: readonly string[], where: string): Kept<T> {
  const kept: Record<string, unknown> = {};
  for (const [name, rule] of Object.entries(fields)) {
    const given = raw[name];
    const field = where + name;
    if (!isGiven(given)) {
      if (required.includes(name)) return failure(field, missingValue(field, rule.taken));
      continue;
    }
    if (given === '' && !required.includes(name)) continue;
    const value = rule.read(given);
    if (value === undefined) return failure(field, wrongValue(field, given, rule.taken));
    kept[name] = value;
  }
  // Every value in it has passed the rule of its field, and the rules are written for the fields of T.
  return { ok: true, kept: kept as T };
}

export function failure(field: string, reason: string): FieldFailure {
  return { ok: false, field, reason };
}

export function isRaw(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function isGiven(value: unknown): boolean {
  return value !== undefined && value !== null;
}

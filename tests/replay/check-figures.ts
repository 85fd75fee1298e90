import type { Expected } from './case-format.js';

/** Follows a path such as `arcs[0].current.mean`; undefined if it leads nowhere. */
export function atPath(figures: unknown, path: string): unknown {
  return path.split(/[.[\]]+/).filter((part) => part !== '').reduce<unknown>((value, part) => {
    if (typeof value !== 'object' || value === null) return undefined;
    return (value as Readonly<Record<string, unknown>>)[part];
  }, figures);
}

/** An instant as µs since 1970, from RFC 3339 text (to the millisecond) or a number of µs. */
export function instant(value: unknown): { micros: number; within: number } | null {
  if (typeof value === 'number') return { micros: value, within: 1 };
  const parsed = typeof value === 'string' ? Date.parse(value) : Number.NaN;
  return Number.isNaN(parsed) ? null : { micros: parsed * 1000, within: 1000 };
}

function fits(actual: unknown, expected: Expected, start: number): boolean {
  if (expected === null || typeof expected === 'string' || typeof expected === 'boolean') return actual === expected;
  if (typeof expected === 'object' && 'at' in expected) {
    const found = instant(actual);
    return found !== null && Math.abs(found.micros - (start * 1000 + expected.at * 1_000_000)) <= found.within;
  }
  if (typeof actual !== 'number') return false;
  if (typeof expected === 'number') return Math.abs(actual - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
  return Math.abs(actual - expected.value) <= 0.5 * 10 ** -expected.digits * (1 + 1e-9);
}

/** The differences between figures and the values that a case expects, a line each. `start` is ms since 1970. */
export function differences(figures: unknown, expected: Readonly<Record<string, Expected>>, start: number): string[] {
  return Object.entries(expected).flatMap(([path, value]) => {
    const actual = atPath(figures, path);
    return fits(actual, value, start) ? [] : [`${path}: expected ${JSON.stringify(value)}, got ${JSON.stringify(actual)}`];
  });
}

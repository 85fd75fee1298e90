import type { z } from 'zod';

export type ShapePath = readonly PropertyKey[];

interface Filled {
  readonly value: unknown;
  /** Where something was missing or had another form. */
  readonly filled: readonly ShapePath[];
}

/**
 * A record of an earlier shape, converted to that of `schema`: what it lacks is taken from `anew`, or is null if that lacks it too; what
 * the schema does not know is left out, and all else stays as it was stored. Throws where null does not fit.
 */
export function convertToShape(schema: z.ZodType, stored: unknown, anew: unknown): Filled {
  const value = structuredClone(stored);
  const filled = new Map<string, ShapePath>();
  // A part shows what it lacks itself only once it has been filled in.
  for (const source of [anew, anew, null]) {
    const checked = schema.safeParse(value);
    if (checked.success) break;
    for (const issue of checked.error.issues) {
      if (issue.code === 'unrecognized_keys') {
        const whole = partAt(value, issue.path);
        if (isPart(whole)) for (const key of issue.keys) Reflect.deleteProperty(whole, key);
        continue;
      }
      const whole = partAt(value, issue.path.slice(0, -1));
      const key = issue.path.at(-1);
      if (key === undefined || !isPart(whole)) continue;
      whole[key] = structuredClone(partAt(source, issue.path) ?? null);
      filled.set(JSON.stringify(issue.path), issue.path);
    }
  }
  const left = schema.safeParse(value).error?.issues[0];
  if (left !== undefined) throw new Error(`it lacks ${left.path.join('.')}, which nothing else that is stored gives: ${left.message}`);
  return { value, filled: [...filled.values()] };
}

type Part = Record<PropertyKey, unknown>;

export function isPart(value: unknown): value is Part {
  return typeof value === 'object' && value !== null;
}

export function partAt(value: unknown, path: ShapePath): unknown {
  let part = value;
  for (const key of path) {
    if (!isPart(part)) return undefined;
    part = part[key];
  }
  return part;
}

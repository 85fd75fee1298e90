import type { z } from 'zod';
import { checkAssignment } from '../../shared/weld/decode/decode-assignment.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { problemError, type FieldError } from './problem-error.js';

/** The value as its schema gives it. Throws a problem that names every field that was wrong. */
export function checkPart(schema: z.ZodType, value: unknown): unknown {
  const checked = schema.safeParse(value);
  if (checked.success) return checked.data;
  const fields = checked.error.issues.flatMap((issue) => fieldErrors(issue));
  throw problemError(400, fields.map(({ field, reason }) => (field === '' ? reason : `${field}: ${reason}`)).join('; '), { fields });
}

function fieldErrors(issue: z.core.$ZodIssue): FieldError[] {
  // `runGroups[0].arcs[1].current`.
  const place = issue.path.map((part, index) => (typeof part === 'number' ? `[${part}]` : `${index === 0 ? '' : '.'}${String(part)}`)).join('');
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({ field: place === '' ? key : `${place}.${key}`, reason: 'is not known here' }));
  }
  return [{ field: place, reason: issue.message }];
}

/** The query's values by name. Throws a problem if one is given twice or is not URL-encoded correctly. */
export function readQuery(url: string): Record<string, string> {
  const start = url.indexOf('?');
  const values: Record<string, string> = {};
  if (start < 0) return values;
  for (const part of url.slice(start + 1).split('&')) {
    if (part === '') continue;
    const middle = part.indexOf('=');
    const name = decode(middle < 0 ? part : part.slice(0, middle));
    if (Object.hasOwn(values, name)) throw problemError(400, `${name}: is given twice`, { fields: [{ field: name, reason: 'is given twice' }] });
    // Assigned by definition, so that a name such as __proto__ is a name like any other.
    Object.defineProperty(values, name, { value: middle < 0 ? '' : decode(part.slice(middle + 1)), enumerable: true, configurable: true, writable: true });
  }
  return values;
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text.replaceAll('+', ' '));
  } catch {
    throw problemError(400, 'The query is not encoded as a URL demands: a % must be followed by two hexadecimal digits of UTF-8.');
  }
}

/** The assignment in a body or a query. Throws a problem that names the field that was wrong. */
export function checkedAssignment(value: unknown): Assignment {
  const checked = checkAssignment(value);
  if (checked.ok) return checked.assignment;
  throw problemError(400, checked.reason, { fields: [{ field: checked.field, reason: checked.reason }] });
}

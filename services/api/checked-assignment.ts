import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { checkAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { problemError } from './problem-error.js';

/** The assignment in a body or a query. Throws a problem that names the field that was wrong. */
export function checkedAssignment(value: unknown): Assignment {
  const checked = checkAssignment(value);
  if (checked.ok) return checked.assignment;
  throw problemError(400, checked.reason, { fields: [{ field: checked.field, reason: checked.reason }] });
}

import type { Assignment } from '../procedure/assignment.js';
import { checkAssignment } from './check-assignment.js';
import { wrongValue } from './decoded.js';
import { readDeviceTime, timeTaken } from './device-time.js';
import { parsePayload } from './parse-json.js';
import { headOfPayload } from './printable.js';

export { checkAssignment } from './check-assignment.js';
export { sameAssignment } from './same-assignment.js';

export type DecodedAssignment =
  | { readonly kind: 'assignment'; readonly assignment: Assignment }
  /** The assignment in force ends, at `time` (whole µs since 1970) where it was given. */
  | { readonly kind: 'end'; readonly time: number | null }
  | { readonly kind: 'refused'; readonly reason: string; readonly head: string };

/** Decodes a message of the kind `assignment`. An empty payload or `"seam": null` ends the one in force. Never throws. */
export function decodeAssignment(payload: Uint8Array): DecodedAssignment {
  if (payload.length === 0) return { kind: 'end', time: null };
  const parsed = parsePayload(payload);
  if (!parsed.ok) return { kind: 'refused', reason: parsed.reason, head: parsed.head };
  const { value } = parsed;
  if (typeof value === 'object' && value !== null && 'seam' in value && value.seam === null) {
    const given = 'time' in value ? value.time : null;
    const time = given === null ? null : readDeviceTime(given);
    if (Number.isNaN(time)) return { kind: 'refused', reason: wrongValue('time', given, timeTaken), head: headOfPayload(payload) };
    return { kind: 'end', time };
  }
  const checked = checkAssignment(value);
  if (!checked.ok) return { kind: 'refused', reason: checked.reason, head: headOfPayload(payload) };
  return { kind: 'assignment', assignment: checked.assignment };
}

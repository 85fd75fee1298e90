import type { Condition } from './run-conditions.js';

/** The quantities that determine heat input. */
const causes = ['current', 'voltage', 'travelSpeed'];

/**
 * Whether heat input is outside because of a cause that has an alarm already: the place that it has reached lies in the stretch of that cause, or
 * within half of `length` of it, which is as far as other places affect the heat input at one. An arc is its offset behind the carriage's travel.
 */
export function hasCause(heat: Condition, conditions: readonly Condition[], length: number, offsets: ReadonlyMap<number, number>): boolean {
  const along = (place: number): number => place * heat.heading;
  return conditions.some(({ arc, quantity, from, to }) => {
    if (!causes.includes(quantity)) return false;
    const behind = arc === null ? 0 : (offsets.get(arc) ?? 0);
    const reached = along(heat.reached);
    const begin = along(from.travelled - behind);
    const end = to === null ? Number.POSITIVE_INFINITY : along(to.travelled - behind);
    return begin - length / 2 <= reached && reached <= end + length / 2;
  });
}

import type { Condition } from './run-conditions.js';

/** What heat input follows from. */
const causes = ['current', 'voltage', 'travelSpeed'];

/**
 * Whether heat input is outside for a cause that is alarmed already: the place that it has reached lies in the stretch of one, or within half of
 * `length` of it, which is how far the heat input at a place feels what happens elsewhere. An arc is its offset behind what the carriage has travelled.
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

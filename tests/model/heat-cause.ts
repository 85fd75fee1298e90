import type { Condition } from './run-conditions.js';

/** The quantities that determine heat input. */
const ofHeat = ['current', 'voltage', 'travelSpeed'];

/**
 * Whether a condition along the seam is outside because of a cause that has an alarm already: the place that it has reached lies in the stretch of that
 * cause, or within half of `length` of it, which is as far as other places affect the heat input at one. Heat input, which determines the cooling time, has
 * to lie outside at the place itself. An arc is its offset behind the carriage's travel.
 */
export function hasCause(own: Condition, conditions: readonly Condition[], length: number, offsets: ReadonlyMap<number, number>): boolean {
  if (own.quantity !== 'heatInput' && own.quantity !== 't85') return false;
  const along = (place: number): number => place * own.heading;
  return conditions.some(({ arc, quantity, from, to }) => {
    const isCause = ofHeat.includes(quantity);
    if (!isCause && !(own.quantity === 't85' && quantity === 'heatInput')) return false;
    const reach = isCause ? length / 2 : 0;
    const behind = arc === null ? 0 : (offsets.get(arc) ?? 0);
    const reached = along(own.reached);
    const begin = along(from.travelled - behind);
    const end = to === null ? Number.POSITIVE_INFINITY : along(to.travelled - behind);
    return begin - reach <= reached && reached <= end + reach;
  });
}

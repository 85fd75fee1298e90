import { valueAt, type ReceivedItem, type Values } from '../../shared/weld/items/item.js';
import type { CarriageEvent } from '../replay/replay.js';
import { seededRandom } from './seeded-random.js';

/** How the signs of an arc's samples run: the current is as many samples positive as it is negative, or so many, and the voltage follows some samples later. */
interface Signs {
  readonly positive: number;
  readonly negative: number;
  readonly late: number;
}

/**
 * Gives the current and voltage of some arcs of a stream signs: square waves of alternating current, even or not, in phase or late, for as long as the arc burns or
 * for a part of it; and direct current on a negative electrode. Draws from a generator of its own.
 */
export function withAlternation(events: readonly CarriageEvent[], seed: number): CarriageEvent[] {
  const random = seededRandom(seed + 9_000_000);
  if (random.chance(0.5)) return [...events];
  const signs = new Map([1, 2, 3].map((arc): [number, Signs | null] => {
    const positive = random.whole(1, 6);
    const kind = random.pick(['none', 'negative', 'even', 'uneven'] as const);
    if (kind === 'none') return [arc, null];
    if (kind === 'negative') return [arc, { positive: 0, negative: 1, late: 0 }];
    const negative = kind === 'even' ? positive : random.whole(1, 6);
    // So far that the arc gave power back it is never late.
    return [arc, { positive, negative, late: positive + negative > 5 ? random.pick([0, 0, 1]) : 0 }];
  }));
  const from = random.pick([0, 0, 0.3]) * events.length;
  const to = random.pick([1, 1, 0.6]) * events.length;
  const sent = new Map<number, number>();
  return events.map((event, at): CarriageEvent => {
    if (event.type === 'assignment') return event;
    const own = signs.get(event.item.arc);
    if (own == null || at < from || at >= to) return event;
    const before = sent.get(event.item.arc) ?? 0;
    sent.set(event.item.arc, before + event.item.count);
    return { ...event, item: signed(event.item, own, before) };
  });
}

function signed(item: ReceivedItem, { positive, negative, late }: Signs, before: number): ReceivedItem {
  const sign = (sample: number): number => (((sample % (positive + negative)) + positive + negative) % (positive + negative) < positive ? 1 : -1);
  const flip = (values: Values, shift: number): Values => {
    // Readings are no samples of a wave: they have one sign.
    if (item.interval === null) return positive === 0 ? -valueAt(values, 0) : valueAt(values, 0);
    return Array.from({ length: item.count }, (_, i) => valueAt(values, i) * sign(before + i - shift));
  };
  return { ...item, current: flip(item.current, late), voltage: flip(item.voltage, 0) };
}

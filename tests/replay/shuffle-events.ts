import { seededRandom } from '../model/seeded-random.js';
import type { CarriageEvent } from './replay.js';

/** Puts assignments before all items: the assignments of these streams carry a time, so their place is free. */
export function assignmentsFirst(events: readonly CarriageEvent[]): CarriageEvent[] {
  return [...events.filter((event) => event.type === 'assignment'), ...events.filter((event) => event.type === 'item')];
}

/**
 * The same items in any order, each two to five times, up to a quarter of an hour late. The first item of each boot stays before that of the next
 * boot, since boots are ordered as they were first seen.
 */
export function shuffleEvents(events: readonly CarriageEvent[], seed: number): CarriageEvent[] {
  const random = seededRandom(seed);
  const items = events.filter((event) => event.type === 'item');
  const repeated = items.flatMap((event) => Array.from({ length: random.whole(2, 5) }, () => event));
  for (let i = repeated.length - 1; i > 0; i -= 1) {
    const j = random.whole(0, i);
    const here = repeated[i];
    const there = repeated[j];
    if (here === undefined || there === undefined) continue;
    repeated[i] = there;
    repeated[j] = here;
  }
  const boots = [...new Set(items.map((event) => event.item.boot))];
  const leaders = boots.flatMap((boot) => items.find((event) => event.item.boot === boot) ?? []);
  const newest = Math.max(...items.map((event) => event.item.arrived));
  // 14 minutes over all arrivals: late, but never too late for the run
  const step = Math.floor(840_000_000 / (repeated.length + leaders.length));
  const arriving = [...leaders, ...repeated].map<CarriageEvent>((event, arrival) => ({
    type: 'item',
    item: { ...event.item, arrived: newest + arrival * Math.min(step, 1_000), arrival },
  }));
  return [...events.filter((event) => event.type === 'assignment'), ...arriving];
}

import type { ReceivedItem } from '../../shared/weld/items/item.js';
import type { TimedItem } from './plain-types.js';

/** Interval used if a clock does not advance and no earlier interval is known (rules, section 2), µs. */
const usualInterval = 100_000;

interface ArcClock {
  start: number;
  interval: number | null;
  item: ReceivedItem;
}

/** The multiple of 100 ms at or before the earliest time, so that rows stay where they are and sums stay exact. */
export function baseOf(items: readonly ReceivedItem[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const item of items) least = Math.min(least, item.time ?? item.arrived);
  return Number.isFinite(least) ? Math.floor(least / 100_000) * 100_000 : 0;
}

/** Device times with the steps taken out, in canonical order. */
export function correctTimes(items: readonly ReceivedItem[], base: number, maxHold: number): TimedItem[] {
  const timed: TimedItem[] = [];
  const arcs = new Map<number, ArcClock>();
  let boot: string | null | undefined;
  let shift = 0;
  let newest = Number.NEGATIVE_INFINITY;
  let brokenBoot = false;
  let seenInBoot = new Set<number>();
  items.forEach((item, index) => {
    const before = arcs.get(item.arc);
    const newBoot = boot !== undefined && item.boot !== boot;
    if (item.boot !== boot) {
      shift = 0;
      brokenBoot = false;
      seenInBoot = new Set();
    }
    boot = item.boot;
    const chained = item.time === null && before !== undefined ? chainedStart(item, before) : null;
    const byArrival = item.time === null && chained === null;
    const named = chained ?? (item.time ?? item.arrived) - base + shift;
    let start = named;
    let stepped = false;
    const interval = before?.interval ?? usualInterval;
    if (newBoot && named <= newest) {
      start = newest + interval;
      stepped = true;
      brokenBoot = true;
    } else if (before !== undefined && named <= before.start) {
      start = before.start + interval;
      stepped = true;
    }
    shift += start - named;
    const elapsed = before === undefined ? 0 : start - before.start;
    const good = !stepped && elapsed > 0 && elapsed <= maxHold;
    arcs.set(item.arc, { start, interval: good ? elapsed : (before?.interval ?? null), item });
    newest = Math.max(newest, start);
    timed.push({ item, index, start, stepped, byArrival, broken: brokenBoot && !seenInBoot.has(item.arc) });
    seenInBoot.add(item.arc);
  });
  return timed;
}

/** Where a block without a time begins if the block before it is its direct predecessor; otherwise null. */
function chainedStart(item: ReceivedItem, before: ArcClock): number | null {
  const previous = before.item;
  if (item.interval === null || previous.interval === null || item.boot !== previous.boot) return null;
  const consecutive = item.seq === null ? previous.seq === null : previous.seq !== null && item.seq === previous.seq + 1;
  return consecutive ? before.start + previous.count * previous.interval * 1000 : null;
}

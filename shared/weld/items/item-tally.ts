import type { Position } from './order.js';

/**
 * Identifies a set of counted items, whatever their order: their number and two sums, modulo 2^32, of a hash of each one's place. Two different sets
 * of items have equal tallies once in about 2^32. Plain data that fits in JSON.
 */
export interface ItemTally {
  items: number;
  first: number;
  second: number;
}

export function emptyTally(): ItemTally {
  return { items: 0, first: 0, second: 0 };
}

/** Counts one item, in place. Its arrival number is not included, so the same item stored elsewhere counts the same. */
export function tallyItem(tally: ItemTally, { rank, key, arc }: Pick<Position, 'rank' | 'key' | 'arc'>): void {
  const above = Math.floor(key / 0x1_0000_0000);
  const mixed = mix((key >>> 0) + Math.imul(above, 0x9e3779b1) + Math.imul(rank, 0x85ebca6b) + Math.imul(arc, 0xc2b2ae35));
  tally.items += 1;
  tally.first = (tally.first + mixed) >>> 0;
  tally.second = (tally.second + mix(mixed ^ 0x27d4eb2f)) >>> 0;
}

export function tallyOf(items: Iterable<Pick<Position, 'rank' | 'key' | 'arc'>>): ItemTally {
  const tally = emptyTally();
  for (const item of items) tallyItem(tally, item);
  return tally;
}

/** The last steps of MurmurHash3 (A. Appleby, public domain): every bit of the input changes about half of those of the result. */
function mix(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
}

export function addTallies(a: ItemTally, b: ItemTally): ItemTally {
  return { items: a.items + b.items, first: (a.first + b.first) >>> 0, second: (a.second + b.second) >>> 0 };
}

export function tallyLess(a: ItemTally, b: ItemTally): ItemTally {
  return { items: a.items - b.items, first: (a.first - b.first) >>> 0, second: (a.second - b.second) >>> 0 };
}

export function sameTally(a: ItemTally, b: ItemTally): boolean {
  return a.items === b.items && a.first === b.first && a.second === b.second;
}

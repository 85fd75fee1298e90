import type { Item } from '../../shared/weld/items/item.js';
import type { PackedItem } from './pack-lines.js';

/**
 * Groups the items of a log, which come in their final order, into messages and numbers them from 1. Arcs that begin at
 * the same time travel in one message with one seq. Every refused line takes a number too, so that what is missing shows
 * as a hole.
 */
export function* numberMessages(packed: Iterable<PackedItem>, boot: string): Generator<Item[], void> {
  let seq = 0;
  let refused = 0;
  let together: Item[] = [];
  for (const { item, refusedBefore } of packed) {
    const joins = together.length > 0 && together[0]?.time === item.time && !together.some((other) => other.arc === item.arc);
    refused += refusedBefore;
    if (!joins) {
      if (together.length > 0) yield together;
      seq += 1 + refused;
      refused = 0;
      together = [];
    }
    together.push({ boot, seq, ...item });
  }
  if (together.length > 0) yield together;
}

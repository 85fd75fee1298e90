import type { Item } from '../../shared/weld/item.js';
import type { PackedItem } from './pack-lines.js';

/**
 * Groups items into messages and numbers them from 1. Arcs that begin at the same time travel in one message with one
 * seq. Every refused line takes a number too, so that what is missing shows as a hole. Where each arc's own times never
 * run back, arcs that a log lists one after the other are brought in the order of time; a log whose clock steps back
 * keeps the order of its lines.
 */
export function numberMessages(packed: readonly PackedItem[], boot: string): Item[][] {
  const ordered = runsForward(packed) ? [...packed].sort((a, b) => timeOf(a) - timeOf(b)) : packed;
  const messages: Item[][] = [];
  let seq = 0;
  let refused = 0;
  let together: Item[] = [];
  for (const { item, refusedBefore } of ordered) {
    const joins = together.length > 0 && together[0]?.time === item.time && !together.some((other) => other.arc === item.arc);
    refused += refusedBefore;
    if (!joins) {
      seq += 1 + refused;
      refused = 0;
      together = [];
      messages.push(together);
    }
    together.push({ boot, seq, ...item });
  }
  return messages;
}

function timeOf(packed: PackedItem): number {
  return packed.item.time ?? 0;
}

function runsForward(packed: readonly PackedItem[]): boolean {
  const newest = new Map<number, number>();
  return packed.every((entry) => {
    const before = newest.get(entry.item.arc) ?? -Infinity;
    newest.set(entry.item.arc, timeOf(entry));
    return timeOf(entry) >= before;
  });
}

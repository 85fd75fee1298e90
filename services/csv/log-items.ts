import { readLines, type LogOutline, type LogSource } from './csv-log.js';
import type { PackedItem } from './pack-lines.js';

/**
 * The items of a log in their final order. Where the times of no arc run back, that is the order of time, also where a log
 * lists one arc after the other; a log whose clock steps back keeps the order of its lines. The log is read once for each
 * of its arcs, side by side, so that no part of it has to be held for long.
 */
export function* logItems(log: LogSource, { arcs, forward }: Pick<LogOutline, 'arcs' | 'forward'>): Generator<PackedItem, void> {
  const readers = arcs.map((arc) => itemsOfArc(log, arc));
  const heads = readers.map(next);
  const before = forward
    ? (a: PackedItem, b: PackedItem): boolean => timeOf(a) < timeOf(b) || (timeOf(a) === timeOf(b) && a.order < b.order)
    : (a: PackedItem, b: PackedItem): boolean => a.order < b.order;
  for (;;) {
    let first = -1;
    let least: PackedItem | null = null;
    for (const [place, head] of heads.entries()) {
      if (head === null || (least !== null && !before(head, least))) continue;
      first = place;
      least = head;
    }
    const reader = readers[first];
    if (least === null || reader === undefined) return;
    yield least;
    heads[first] = next(reader);
  }
}

function* itemsOfArc(log: LogSource, arc: number): Generator<PackedItem, void> {
  let given: PackedItem[] = [];
  const lines = readLines(log, {
    item: (packed) => {
      if (packed.item.arc === arc) given.push(packed);
    },
  });
  for (;;) {
    const { done } = lines.next();
    if (given.length > 0) {
      yield* given;
      given = [];
    }
    if (done === true) return;
  }
}

function next(reader: Generator<PackedItem, void>): PackedItem | null {
  const step = reader.next();
  return step.done === true ? null : step.value;
}

function timeOf({ item }: PackedItem): number {
  return item.time ?? 0;
}

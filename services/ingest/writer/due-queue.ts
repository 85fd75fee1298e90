import type { Carriage } from '../fold/carriage.js';
import { setDueAt } from '../fold/outbox.js';

/** The carriages for which something becomes due without a message, in the order of their `dueAt`: those that are not due yet cost nothing. */
export interface DueQueue {
  size(): number;
  /** Whether anything is due at `now`, µs of the steady clock. */
  isDue(now: number): boolean;
  /** Removes the carriages that are due at `now`; each has to be put back. */
  take(now: number): Carriage[];
  /** Puts a carriage at the place for `dueAt`, or removes it if that is `Infinity`. */
  put(carriage: Carriage, dueAt: number): void;
  clear(): void;
}

export function dueQueue(): DueQueue {
  /** The carriage due next comes last. Moving some thousand entries takes a microsecond. */
  const queue: Carriage[] = [];

  /** Index of the first carriage that is due at that time or sooner. */
  function placeOf(dueAt: number): number {
    let from = 0;
    for (let to = queue.length; from < to; ) {
      const middle = (from + to) >> 1;
      if ((queue[middle]?.outbox.dueAt ?? 0) > dueAt) from = middle + 1;
      else to = middle;
    }
    return from;
  }

  return {
    size: () => queue.length,
    isDue: (now) => placeOf(now) < queue.length,
    take: (now) => queue.splice(placeOf(now)),
    put(carriage, dueAt) {
      const before = carriage.outbox.dueAt;
      const place = before < Infinity ? queue.indexOf(carriage, placeOf(before)) : -1;
      if (place >= 0) queue.splice(place, 1);
      setDueAt(carriage.outbox, dueAt);
      if (dueAt < Infinity) queue.splice(placeOf(dueAt), 0, carriage);
    },
    clear: () => { queue.length = 0; },
  };
}

import type { Carriage } from './carriage.js';
import { setDueAt } from './outbox.js';

/** The carriages for which something is due by itself, in the order of their `dueAt`: what is not due yet costs nothing. */
export interface DueQueue {
  size(): number;
  /** Whether anything is due at `now`, µs by the steady clock. */
  isDue(now: number): boolean;
  /** Those that are due at `now`; each is out of the queue until it is put back. */
  take(now: number): Carriage[];
  /** Puts a carriage where its time has it, or takes it out where that is `Infinity`. */
  put(carriage: Carriage, dueAt: number): void;
  clear(): void;
}

/** A binary heap that knows each carriage's place in it. */
export function dueQueue(): DueQueue {
  const heap: Carriage[] = [];
  const places = new Map<Carriage, number>();

  const timeAt = (place: number): number => heap[place]?.outbox.dueAt ?? Infinity;

  function set(place: number, carriage: Carriage): void {
    heap[place] = carriage;
    places.set(carriage, place);
  }

  /** Moves a carriage from a place to where it belongs. */
  function settle(from: number, carriage: Carriage): void {
    const { dueAt } = carriage.outbox;
    let place = from;
    for (let above = (place - 1) >> 1; place > 0 && timeAt(above) > dueAt; above = (place - 1) >> 1) {
      set(place, heap[above] ?? carriage);
      place = above;
    }
    for (;;) {
      const left = 2 * place + 1;
      const least = timeAt(left + 1) < timeAt(left) ? left + 1 : left;
      if (timeAt(least) >= dueAt) break;
      set(place, heap[least] ?? carriage);
      place = least;
    }
    set(place, carriage);
  }

  function remove(carriage: Carriage): void {
    const place = places.get(carriage);
    const last = heap.pop();
    places.delete(carriage);
    if (place !== undefined && last !== undefined && last !== carriage) settle(place, last);
  }

  return {
    size: () => heap.length,
    isDue: (now) => timeAt(0) <= now,
    take(now) {
      const due: Carriage[] = [];
      for (let first = heap[0]; first !== undefined && first.outbox.dueAt <= now; first = heap[0]) {
        remove(first);
        due.push(first);
      }
      return due;
    },
    put(carriage, dueAt) {
      if (places.has(carriage)) {
        if (carriage.outbox.dueAt === dueAt) return;
        remove(carriage);
      }
      setDueAt(carriage.outbox, dueAt);
      if (dueAt < Infinity) settle(heap.length, carriage);
    },
    clear: () => {
      heap.length = 0;
      places.clear();
    },
  };
}

import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';

interface WeldedRun {
  readonly id: string;
  readonly start: number;
  readonly seam: string | null;
}

/**
 * The value that counts for each of a carriage's runs, in their order, found in another way than the program does: everything that was measured is put in a
 * heap by its time, and each run as it is lit takes the heap away; what is left of its heap is thrown out step by step. What was entered at a run is put
 * into the heap of that run alone.
 */
export function modelOfCounting(runs: readonly WeldedRun[], entered: readonly Measurement[], samples: readonly { readonly at: number; readonly value: number }[], age: number): (number | null)[] {
  const waiting = [
    ...samples.map(({ at, value }) => ({ at, value, rank: -1, seam: null as string | null })),
    ...entered.flatMap((own, rank) => (own.run !== null || own.place === 'behind' || own.withdrawn !== null ? [] : [{ at: own.at, value: own.value, rank, seam: own.seam }])),
  ].sort((a, b) => a.at - b.at || a.rank - b.rank);
  return runs.map(({ id, start, seam }) => {
    const heap: { at: number; value: number; rank: number }[] = [];
    while (waiting[0] !== undefined && waiting[0].at <= start) {
      const next = waiting.shift();
      if (next !== undefined && (next.seam === null || next.seam === seam)) heap.push(next);
    }
    entered.forEach((own, rank) => {
      if (own.run === id && own.place === 'ahead' && own.withdrawn === null && own.at <= start) heap.push({ at: own.at, value: own.value, rank });
    });
    heap.sort((a, b) => a.at - b.at || a.rank - b.rank);
    const newest = heap.at(-1);
    return newest === undefined || newest.at + age < start ? null : newest.value;
  });
}

import { signal } from '@preact/signals';
import { fetchRun } from '../shared/api.js';

/** Seams by the id of their run; null if the run has none. Alarms name only their run. */
export const runSeams = signal<ReadonlyMap<string, string | null>>(new Map());

const asked = new Set<string>();

/** Asks for the seams of those runs, each once. */
export function askSeams(runs: readonly string[]): void {
  for (const id of runs) {
    if (asked.has(id)) continue;
    asked.add(id);
    void fetchRun(id, new AbortController().signal).then((answer) => {
      if (answer.ok) runSeams.value = new Map(runSeams.peek()).set(id, answer.value.seam);
      else asked.delete(id);
    });
  }
}

import type { RunParts } from './split-runs.js';

const rowTime = 100_000;

/** Number of the row in which each burning of an arc, or of the run (null), ended; Infinity where the arc did not go out. */
export function outRows(run: RunParts, arc: number | null, base: number): number[] {
  const merged: { to: number; out: boolean }[] = [];
  for (const burn of run.burns.filter((own) => arc === null || own.arc === arc).sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (arc !== null || last === undefined || burn.from > last.to) merged.push({ to: burn.to, out: burn.out });
    else merged[merged.length - 1] = burn.to < last.to ? last : { to: burn.to, out: burn.out };
  }
  return merged.map(({ to, out }) => (out ? Math.floor((to + base) / rowTime) : Number.POSITIVE_INFINITY));
}

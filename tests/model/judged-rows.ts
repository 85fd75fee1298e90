import { passagesOf } from './heat-series.js';
import { allOuts, type KnownRun } from './known-run.js';
import type { ZonedRow } from './window-types.js';

/**
 * The last judged row: all rows to which its smoothing (s) reaches ahead exist. A row half inside counts, one that is only touched does not. Once all
 * arcs are out, nothing can follow that it would reach.
 */
export function judgedUpTo(known: KnownRun, smoothing: number): number {
  const ahead = (smoothing * 10) / 2 - 0.5;
  // Half a row of 0.1 s smoothing is exact only in paper arithmetic.
  const smoothed = Math.floor(known.newest - Math.max(0, ahead) + 1e-9);
  return Math.max(smoothed, ...allOuts(known).filter((row) => row <= known.newest));
}

/**
 * The rows at whose middle heat input is judged. In each case the row `upTo`, which was judged last, or one before it has carried the last arc half
 * of `length` past the row or belongs to another passage, or all arcs are out.
 */
export function heatJudged(known: KnownRun, rows: readonly ZonedRow[], offsets: ReadonlyMap<number, number>, length: number, upTo: number): ReadonlySet<ZonedRow> {
  const ahead = length / 2 + Math.max(0, ...offsets.values());
  const passages = passagesOf(rows);
  const outs = allOuts(known);
  const isOut = (row: ZonedRow): boolean => (outs[row.run.burn] ?? Number.POSITIVE_INFINITY) <= upTo;
  const isPassed = (row: ZonedRow, i: number): boolean => {
    const place = row.group.run.travelled + row.group.run.advance / 2;
    return rows.slice(i).some(({ group: { run } }, k) => {
      if (run.index > upTo) return false;
      return passages[i + k] !== passages[i] || Math.sign(run.advance) * (run.travelled + run.advance - place) >= ahead;
    });
  };
  return new Set(rows.filter((row, i) => known.newest === Number.POSITIVE_INFINITY || isOut(row) || isPassed(row, i)));
}

import { burnOf, type WatchedExcursion } from './alarm-excursions.js';
import type { KnownOuts } from './alarm-series.js';
import { findExcursions } from './find-excursions.js';

const rowTime = 100_000;

type Settled = { readonly to: number; readonly worst: number } | 'withdrawn' | null;

/**
 * What the record makes of excursions that are over when an arc goes out, and that reach into the time that is now its crater, or
 * whose off-delay did: those that it has end as they do there, the others were made by the crater alone and are withdrawn. Null: it says nothing.
 * `judgedUpTo` tells of the newest row which one is judged by then.
 */
export function settledByRecord({ outs, judgedUpTo }: KnownOuts, rows: readonly number[]): (own: WatchedExcursion, upTo: number) => Settled {
  const inOrder = [...outs].sort((a, b) => a.row - b.row);
  return (own, upTo) => {
    let settled: Settled = null;
    let to = own.to?.time ?? Number.POSITIVE_INFINITY;
    for (const { row: out, crater } of inOrder) {
      if (out > upTo || own.endedWith > out || settled === 'withdrawn' || to < crater - rowTime - own.series.offDelay * 1_000_000) continue;
      const newest = rows.find((row) => judgedUpTo(row) >= out) ?? Number.POSITIVE_INFINITY;
      const { series } = own;
      const kept = series.values.filter((value) => value.kept && value.row.start < (newest + 1) * rowTime && burnOf(series, value) === own.burn);
      const record = findExcursions(kept, series.window, series, () => 0, own.out <= newest ? -1 : 0)
        .filter((other) => other.limit === own.limit && (other.to ?? Number.POSITIVE_INFINITY) > own.from.time && other.from < to);
      const match = record[0];
      if (match === undefined) settled = 'withdrawn';
      else if (match.to !== null) {
        settled = { to: match.to, worst: match.worst };
        to = match.to;
      }
    }
    return settled;
  };
}

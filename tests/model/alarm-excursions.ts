import type { WatchedSeries, WatchedValue } from './alarm-series.js';
import type { PlainMoment } from './alarm-types.js';
import { findExcursions } from './find-excursions.js';
import { outRows } from './out-rows.js';
import type { RunParts } from './split-runs.js';
import type { Judged } from './window-types.js';

const rowTime = 100_000;

/** One excursion of the weld as it goes on, with the rows (their numbers) by whose judging its parts are known. */
export interface WatchedExcursion {
  readonly series: WatchedSeries;
  readonly burn: number;
  readonly limit: number;
  /** It is the upper end of the window. */
  readonly upper: boolean;
  readonly from: PlainMoment;
  /** End of the row with which the on-delay was over. */
  readonly raisedAt: number;
  readonly raisedWith: number;
  readonly to: PlainMoment | null;
  readonly endedWith: number;
  /** The row in which its arc went out, or the last one; Infinity where none did. */
  readonly out: number;
  /** All values of its burning from its first one on. */
  readonly values: readonly WatchedValue[];
}

const beginOf = ({ row }: Judged): PlainMoment => ({ time: row.start + row.group.run.from, travelled: row.group.run.travelled });
const endOf = ({ row }: Judged): PlainMoment => ({ time: row.start + rowTime, travelled: row.group.run.travelled + row.group.run.advance });

export const burnOf = (series: Pick<WatchedSeries, 'arc'>, { row }: Judged): number => (series.arc === null ? row.run.burn : (row.arcs.get(series.arc)?.burn ?? -1));

/** The excursions of one series. `noticed`: with which row it is seen that the arc went out in a row. */
export function alarmExcursions(series: WatchedSeries, run: RunParts, base: number, noticed: (row: number) => number): WatchedExcursion[] {
  const { values, window, onDelay, offDelay } = series;
  const outs = outRows(run, series.arc, base);
  return [...new Set(values.map((value) => burnOf(series, value)))].flatMap((burn) => {
    const own = values.filter((value) => burnOf(series, value) === burn);
    const out = noticed(outs[burn] ?? Number.POSITIVE_INFINITY);
    return findExcursions(own, window, series, () => burn, -1).map((found): WatchedExcursion => {
      const inside = own.filter((value) => beginOf(value).time >= found.from);
      const first = inside[0];
      const raised = inside.find((value) => endOf(value).time - found.from >= onDelay * 1_000_000);
      if (first === undefined || raised === undefined) throw new Error('an excursion without values');
      const last = own.at(-1);
      const back = own.find((value) => value.row.start === found.to);
      const proof = back === undefined ? undefined : own.find((value) => value.row.start >= back.row.start && endOf(value).time - beginOf(back).time >= offDelay * 1_000_000);
      const upper = found.limit === window.max && found.worst > found.limit;
      return {
        series,
        burn,
        limit: found.limit,
        upper,
        from: beginOf(first),
        raisedAt: endOf(raised).time,
        raisedWith: raised.judgedWith,
        to: back !== undefined ? beginOf(back) : last === undefined ? null : endOf(last),
        endedWith: proof?.judgedWith ?? out,
        out: outs[burn] ?? Number.POSITIVE_INFINITY,
        values: inside,
      };
    });
  });
}

import type { AlarmProcedure, PlainMoment } from './alarm-types.js';
import { beginOf, findExcursions, type FoundExcursion } from './find-excursions.js';
import { allOuts, arcOuts, rowTime, type KnownRun } from './known-run.js';
import { watchedSeries, type WatchedSeries } from './watched-series.js';
import type { Judged } from './window-types.js';

/** An excursion whose on-delay is over, as it is known at some row of its run. */
export interface Condition {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly from: PlainMoment;
  /** End of the row at which the on-delay was over. */
  readonly raisedAt: number;
  /** Null while it lasts. */
  readonly to: PlainMoment | null;
  /** Travel to where it came back inside, mm, even if its arc went out before the off-delay was over; otherwise to the end of its last row. */
  readonly reached: number;
  /** The direction in which the carriage moves there. */
  readonly heading: number;
}

const beginning = ({ row }: Judged): PlainMoment => ({ time: row.start + row.group.run.from, travelled: row.group.run.travelled });
const ending = ({ row }: Judged): PlainMoment => ({ time: row.start + rowTime, travelled: row.group.run.travelled + row.group.run.advance });

function conditionOf({ arc, quantity, values, delays }: WatchedSeries, found: FoundExcursion): Condition {
  const { limit, worst, first, back, last, to } = found;
  const raised = values.find((value) => value.row.start >= first.row.start && ending(value).time - beginOf(first) >= delays.onDelay * 1_000_000) ?? last;
  // An excursion that waited for its off-delay when its arc went out ended with the last judged value, not where it came back.
  const end = back !== null && to !== ending(last).time ? beginning(back) : ending(last);
  return {
    arc, quantity, limit, worst,
    from: beginning(first),
    raisedAt: ending(raised).time,
    to: to === null ? null : end,
    reached: (back === null ? ending(last) : beginning(back)).travelled,
    heading: Math.sign((back ?? last).row.group.run.advance) || 1,
  };
}

/** The excursions of a run as they are known at its newest row, with the zones known there (rules, section 6). */
export function runConditions(known: KnownRun, procedure: AlarmProcedure): Condition[] {
  return watchedSeries(known, procedure).flatMap((series) => {
    const { arc, values, window, delays, upTo } = series;
    const outs = arc === null ? allOuts(known) : arcOuts(known, arc);
    const burnOf = ({ row }: Judged): number => (arc === null ? row.run.burn : (row.arcs.get(arc)?.burn ?? -1));
    const last = values.at(-1);
    const newestBurn = last === undefined ? -1 : burnOf(last);
    // An excursion lasts until the row is judged in which its arc goes out: rows still to be judged may belong to it.
    const burning = known.newest === Number.POSITIVE_INFINITY || (outs[newestBurn] ?? Number.POSITIVE_INFINITY) <= upTo ? -1 : newestBurn;
    return findExcursions(values, window, delays, burnOf, burning).map((found) => conditionOf(series, found));
  });
}

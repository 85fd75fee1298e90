import type { RunRowGroup } from './row.js';
import { rowLength } from './row.js';

/** Present means are taken over this many rows (10 s); common practice, no source. */
const presentRows = 100;
/** Under this a carriage counts as standing, mm/min: as for the alarm `travelStopped`; common practice, no source. */
export const standingBelow = 30;
/** Over the newest second the carriage must have moved, too. */
const newestRows = 10;

/** What a run does at present. */
export interface PresentRates {
  readonly speed: number | null;
  readonly standing: boolean;
  /** Of each arc. */
  readonly feed: ReadonlyMap<number, number | null>;
}

export function presentRates(rows: readonly RunRowGroup[], arcs: readonly number[]): PresentRates {
  return { speed: presentSpeed(rows), standing: isStanding(rows), feed: new Map(arcs.map((arc) => [arc, presentFeed(rows, arc)])) };
}

/**
 * Mean speed at which the carriage came on in the last 10 s in which an arc burnt, signed, mm/min: travel over time, so that an encoder
 * counts before a set point. Null where no travel is known. `rows` are in order.
 */
export function presentSpeed(rows: readonly RunRowGroup[], over = presentRows): number | null {
  const oldest = (rows.at(-1)?.run.index ?? 0) - over;
  let time = 0;
  let travel = 0;
  for (let at = rows.length - 1; at >= 0; at -= 1) {
    const run = rows[at]?.run;
    if (run === undefined || run.index <= oldest) break;
    if (run.speedTime === 0 && run.gapLength === 0) continue;
    time += (rowLength - run.from) / 1e6;
    travel += run.advance;
  }
  return time > 0 ? (travel / time) * 60 : null;
}

/** Whether it does not move: over the last 10 s, or since a second. */
function isStanding(rows: readonly RunRowGroup[]): boolean {
  return [presentRows, newestRows].some((over) => Math.abs(presentSpeed(rows, over) ?? Infinity) < standingBelow);
}

/** Mean wire feed speed of an arc over the last 10 s in which it burnt, m/min; null where none was sent. */
function presentFeed(rows: readonly RunRowGroup[], arc: number): number | null {
  const oldest = (rows.at(-1)?.run.index ?? 0) - presentRows;
  let time = 0;
  let sum = 0;
  for (let at = rows.length - 1; at >= 0; at -= 1) {
    const group = rows[at];
    if (group === undefined || group.run.index <= oldest) break;
    for (const own of group.arcs) {
      if (own.arc !== arc || own.row.on === 0 || !(own.row.feedTime > 0)) continue;
      time += own.row.feedTime;
      sum += own.row.wireFeedSpeed * own.row.feedTime;
    }
  }
  return time > 0 ? sum / time : null;
}

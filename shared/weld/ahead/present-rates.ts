import { arcColumn, columnOf, rowLength, runColumn } from '../rows/row.js';
import { arcRow, type RowGroup } from '../rows/row-group.js';
import { spreadColumn } from '../rows/spread-sum.js';

/** Present means cover this many rows (10 s); common practice, no source. */
const presentRows = 100;
/** Below this speed a carriage counts as standing still, mm/min, as for the alarm `travelStopped`; common practice, no source. */
const standingBelow = 30;
/** The carriage must also have moved within the newest second. */
const newestRows = 10;

/** What a run does at present. */
export interface PresentRates {
  readonly speed: number | null;
  /** Whether the carriage stands still, over the last 10 s or over the last second. */
  readonly standing: boolean;
  /** By arc. */
  readonly feed: ReadonlyMap<number, number | null>;
}

export function presentRates(rows: readonly RowGroup[], arcs: readonly number[]): PresentRates {
  const standing = [presentRows, newestRows].some((over) => Math.abs(presentSpeed(rows, over) ?? Infinity) < standingBelow);
  return { speed: presentSpeed(rows), standing, feed: new Map(arcs.map((arc) => [arc, presentFeed(rows, arc)])) };
}

/**
 * Mean signed speed of the carriage over the last 10 s in which an arc burnt, mm/min: travel over time, so that an encoder takes precedence over a
 * set point. Null where no travel is known. The rows are in order.
 */
export function presentSpeed(groups: readonly RowGroup[], over = presentRows): number | null {
  let time = 0;
  let travel = 0;
  for (const { rows, at } of newestOf(groups, over)) {
    if (columnOf(rows, at, runColumn.speedTime) === 0 && columnOf(rows, at, runColumn.gapLength) === 0) continue;
    time += (rowLength - columnOf(rows, at, runColumn.from)) / 1e6;
    travel += columnOf(rows, at, runColumn.advance);
  }
  return time > 0 ? (travel / time) * 60 : null;
}

/** Mean wire feed speed of an arc over the last 10 s in which it burnt, m/min; null where none was sent. */
function presentFeed(groups: readonly RowGroup[], arc: number): number | null {
  const { mean, time: sent } = spreadColumn.wireFeedSpeed;
  let time = 0;
  let sum = 0;
  for (const { rows, at } of newestOf(groups, presentRows)) {
    const own = arcRow(rows, at, arc);
    if (own === null || columnOf(rows, own, arcColumn.on) === 0 || !(columnOf(rows, own, sent) > 0)) continue;
    time += columnOf(rows, own, sent);
    sum += columnOf(rows, own, mean) * columnOf(rows, own, sent);
  }
  return time > 0 ? sum / time : null;
}

/** The newest `over` rows, from the newest back. */
function* newestOf(groups: readonly RowGroup[], over: number): Generator<RowGroup> {
  const newest = groups.at(-1);
  const oldest = newest === undefined ? 0 : columnOf(newest.rows, newest.at, runColumn.index) - over;
  for (let k = groups.length - 1; k >= 0; k -= 1) {
    const group = groups[k];
    if (group === undefined || columnOf(group.rows, group.at, runColumn.index) <= oldest) return;
    yield group;
  }
}

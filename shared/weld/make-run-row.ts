import type { Intervals } from './intervals.js';
import { measure, without } from './intervals.js';
import type { Motion, Travel } from './motion.js';
import { addTravel, noTravel } from './motion.js';
import type { RunRow } from './row.js';
import { rowLength, runRowFlags } from './row.js';

/** What a row of a run begins with: its number, the first instant of the run in it (µs), and the place there (mm travelled). */
export interface RowStart {
  readonly index: number;
  readonly start: number;
  readonly travelled: number;
}

/** The carriage's part of a row: its motion over all of it, `whole`, and while arcs burnt and sent, or were in a data gap. */
export function makeRunRow({ index, start, travelled }: RowStart, motion: Motion, whole: Travel, burning: Intervals, gaps: Intervals): RunRow {
  const proven = gaps.length === 0 ? burning : without(burning, gaps);
  let travel = whole;
  const simple = proven.length === 1 && gaps.length === 0 && proven[0]?.[0] === start && proven[0][1] === (index + 1) * rowLength;
  if (!simple) {
    travel = noTravel();
    for (const [from, to] of proven) addTravel(travel, motion, from, to, false);
  }
  let gapLength = 0;
  if (gaps.length > 0) {
    const gap = noTravel();
    for (const [from, to] of gaps) addTravel(gap, motion, from, to, true);
    gapLength = gap.absolute;
  }
  // The speed is that of the time in which any arc burns and sends, also where another one is in a data gap.
  let timed = travel;
  if (gaps.length > 0 && burning.length > 0) {
    timed = noTravel();
    for (const [from, to] of burning) addTravel(timed, motion, from, to, false);
  }
  return {
    index,
    from: start - index * rowLength,
    on: measure(burning) / 1e6,
    gap: measure(gaps) / 1e6,
    length: travel.absolute,
    gapLength,
    travelled,
    advance: whole.signed,
    speedTime: timed.time,
    speed: timed.speed,
    speedSquared: timed.speedSquared,
    minSpeed: timed.time > 0 ? timed.min : Number.NaN,
    maxSpeed: timed.time > 0 ? timed.max : Number.NaN,
    travelSpeed: whole.time > 0 ? whole.speed / whole.time : Number.NaN,
    flags: (whole.estimated ? runRowFlags.estimated : 0) | (whole.jump ? runRowFlags.travelJump : 0),
  };
}

/** mm of absolute motion over some stretches of time. */
export function absoluteTravel(motion: Motion, parts: Intervals): number {
  const travel = noTravel();
  for (const [from, to] of parts) addTravel(travel, motion, from, to, false);
  return travel.absolute;
}

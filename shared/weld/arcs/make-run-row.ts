import { measure, without, type Intervals } from '../rows/intervals.js';
import { addTravel, noTravel, type Motion, type Travel } from './motion.js';
import { rowLength, runColumn, runRowFlags } from '../rows/row.js';

/** The start of a row of a run: its number, the first instant of the run in it (µs), and the place at that instant (mm travelled). */
export interface RowStart {
  readonly index: number;
  readonly start: number;
  readonly travelled: number;
}

/** Writes the carriage's part of a row: its motion over all of it (`whole`), while arcs burnt and sent values, and while they were in a data gap. */
export function makeRunRow(rows: Float64Array, at: number, { index, start, travelled }: RowStart, motion: Motion, whole: Travel, burning: Intervals, gaps: Intervals): void {
  const proven = gaps.length === 0 ? burning : without(burning, gaps);
  const simple = proven.length === 1 && gaps.length === 0 && proven[0]?.[0] === start && proven[0][1] === (index + 1) * rowLength;
  const travel = simple ? whole : travelOver(motion, proven, false);
  const gapLength = gaps.length === 0 ? 0 : travelOver(motion, gaps, true).absolute;
  // The speed covers the time in which any arc burns and sends values, even while another arc is in a data gap.
  const timed = gaps.length > 0 && burning.length > 0 ? travelOver(motion, burning, false) : travel;
  const known = timed.time > 0;
  rows[at + runColumn.index] = index;
  rows[at + runColumn.from] = start - index * rowLength;
  rows[at + runColumn.on] = measure(burning) / 1e6;
  rows[at + runColumn.gap] = measure(gaps) / 1e6;
  rows[at + runColumn.length] = travel.absolute;
  rows[at + runColumn.gapLength] = gapLength;
  rows[at + runColumn.travelled] = travelled;
  rows[at + runColumn.advance] = whole.signed;
  rows[at + runColumn.speedTime] = timed.time;
  rows[at + runColumn.speed] = timed.speed;
  rows[at + runColumn.speedSquared] = timed.speedSquared;
  rows[at + runColumn.minSpeed] = known ? timed.min : Number.NaN;
  rows[at + runColumn.maxSpeed] = known ? timed.max : Number.NaN;
  rows[at + runColumn.travelSpeed] = whole.time > 0 ? whole.speed / whole.time : Number.NaN;
  rows[at + runColumn.flags] = (whole.estimated ? runRowFlags.estimated : 0) | (whole.jump ? runRowFlags.travelJump : 0);
}

/** The motion summed over some stretches of time. */
export function travelOver(motion: Motion, parts: Intervals, withEstimated: boolean): Travel {
  const travel = noTravel();
  for (const [from, to] of parts) addTravel(travel, motion, from, to, withEstimated);
  return travel;
}

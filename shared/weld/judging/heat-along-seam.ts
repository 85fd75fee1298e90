import { heatInput, type ArcEnergy } from '../rows/heat-input.js';
import { arcColumn, columnOf, runColumn } from '../rows/row.js';
import { arcNumber, arcRow, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import { wentOut } from '../rows/zone-spans.js';

/** The deposits of one arc in the current passage, in the order of places. */
interface ArcDeposits {
  readonly arc: number;
  /** Three numbers for each deposit: from and to, mm, and the energy left between them, J; NaN where a data gap hides it. */
  list: number[];
  /** Position in the list of the first deposit that is still needed. */
  first: number;
  /** Place of the very first deposit of the passage, mm. */
  readonly begun: number;
  /** Whether the arc has gone out since. */
  out: boolean;
}

/** The deposits of the arcs in the current passage, as far as they are needed to judge the places that wait. */
export interface SeamHeat {
  arcs: ArcDeposits[];
  /** 1 forwards, -1 backwards; 0 before the carriage has moved. */
  direction: number;
}

/** How many numbers describe a deposit. */
const deposit = 3;
/** Places closer together than this are the same, mm: a rounding error. */
const samePlace = 1e-6;
/** Nothing further than this beyond the reach is looked at, mm: more than a place can jitter. */
const margin = 1;
/** Deposits that are no longer needed are removed once they fill this much of the list. */
const mostUnneeded = 64 * deposit;

export function startSeamHeat(): SeamHeat {
  return { arcs: [], direction: 0 };
}

export function cloneSeamHeat(heat: SeamHeat): SeamHeat {
  return { arcs: heat.arcs.map((own) => ({ ...own, list: own.list.slice(own.first), first: 0 })), direction: heat.direction };
}

/** Whether the row goes the other way than the rows before it, which makes it a new passage. */
export function turnsBack(heat: SeamHeat, rows: Float64Array, at: number): boolean {
  const direction = Math.sign(columnOf(rows, at, runColumn.advance));
  return direction !== 0 && heat.direction !== 0 && direction !== heat.direction;
}

/** What an arc did at a place in the current passage: passed it, began after it, was out there after burning before it, or never burnt. */
export type ArcPassing = 'passed' | 'beginsLater' | 'out' | 'litAgainLater' | 'none';

/** What an arc did at a place; before the carriage has moved nobody can say, and the arc counts as having passed it. */
export function passing(heat: SeamHeat, arc: number, place: number): ArcPassing {
  if (heat.direction === 0) return 'passed';
  const own = heat.arcs.find((other) => other.arc === arc);
  if (own === undefined) return 'none';
  const { list, first, begun } = own;
  let ahead = false;
  for (let at = first; at < list.length; at += deposit) {
    const from = ((list[at] ?? 0) - place) * heat.direction;
    const to = ((list[at + 1] ?? 0) - place) * heat.direction;
    if (from <= samePlace && to >= -samePlace) return 'passed';
    if (from > 0) ahead = true;
  }
  if ((begun - place) * heat.direction > 0) return 'beginsLater';
  return ahead ? 'litAgainLater' : 'out';
}

export function addDeposits(heat: SeamHeat, rows: Float64Array, at: number, offsets: Readonly<Record<number, number>>): void {
  const direction = Math.sign(columnOf(rows, at, runColumn.advance));
  if (direction !== 0) heat.direction = direction;
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    const arc = arcNumber(rows, own);
    const length = columnOf(rows, own, arcColumn.length);
    if (columnOf(rows, own, arcColumn.on) > 0 && !Number.isNaN(length)) {
      const from = columnOf(rows, own, arcColumn.travelled) - (offsets[arc] ?? 0);
      const deposits = depositsOf(heat, arc, from);
      deposits.list.push(from, from + direction * length, columnOf(rows, own, arcColumn.energy));
      deposits.out = false;
    }
    if (wentOut(rows, own)) for (const deposits of heat.arcs) if (deposits.arc === arc) deposits.out = true;
  }
  if (columnOf(rows, at, runColumn.gap) > 0) hideGap(heat, rows, at);
}

function depositsOf(heat: SeamHeat, arc: number, begun: number): ArcDeposits {
  for (const own of heat.arcs) if (own.arc === arc) return own;
  const added: ArcDeposits = { arc, list: [], first: 0, begun, out: false };
  heat.arcs.push(added);
  // The arcs are in order of their number, since a sum of floating-point numbers depends on the order.
  heat.arcs.sort((a, b) => a.arc - b.arc);
  return added;
}

/** Marks a data gap: the arcs that sent nothing in the row continued, and nobody knows with which values. */
function hideGap(heat: SeamHeat, rows: Float64Array, at: number): void {
  const advance = columnOf(rows, at, runColumn.advance);
  for (const { arc, list, out } of heat.arcs) {
    const last = list[list.length - deposit + 1];
    const own = arcRow(rows, at, arc);
    if (out || last === undefined || (own !== null && columnOf(rows, own, arcColumn.gap) === 0)) continue;
    const hidden = advance - Math.sign(advance) * (own === null ? 0 : columnOf(rows, own, arcColumn.length));
    list.push(last, last + hidden, Number.NaN);
  }
}

/**
 * Heat input at a place, kJ/mm: the energy of each arc over its length within `reach` to both sides, added over the arcs. Null where no arc left
 * anything, and where a data gap hides what one left.
 */
export function heatAt(heat: SeamHeat, place: number, reach: number, thermalEfficiency: number): number | null {
  const passed: ArcEnergy[] = [];
  for (const { list, first } of heat.arcs) {
    let energy = 0;
    let length = 0;
    for (let at = first; at < list.length; at += deposit) {
      const from = list[at] ?? 0;
      const to = list[at + 1] ?? 0;
      // An arc goes one way in a passage, so whatever follows lies further ahead still.
      if ((from - place) * heat.direction > reach + margin) break;
      const left = list[at + 2] ?? 0;
      const low = Math.min(from, to);
      const high = Math.max(from, to);
      const within = Math.min(high, place + reach) - Math.max(low, place - reach);
      if (within < 0) continue;
      // Where the carriage stands still, all the energy falls on the one place.
      energy += high === low ? left : left * (within / (high - low));
      length += within;
    }
    if (length !== 0) passed.push({ energy, length });
  }
  const input = heatInput(passed, thermalEfficiency);
  return passed.length === 0 || Number.isNaN(input) ? null : input;
}

/** Removes the deposits further than `reach` behind the oldest place that still waits. */
export function forgetBehind(heat: SeamHeat, place: number, reach: number): void {
  for (const own of heat.arcs) {
    const { list } = own;
    let { first } = own;
    while (first < list.length && !((place - (list[first + 1] ?? 0)) * heat.direction <= reach)) first += deposit;
    // If all deposits lie behind, they stay, and so does the last one before a gap.
    if (first === list.length) continue;
    own.first = first;
    if (first < mostUnneeded) continue;
    own.list = list.slice(first);
    own.first = 0;
  }
}

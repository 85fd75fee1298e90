import { arcRow } from './judged-values.js';
import type { RunRowGroup } from './row.js';

/** What one arc left on the passage at hand, in the order of places. */
interface ArcDeposits {
  readonly arc: number;
  /** Of each deposit three numbers: from and to, mm, and the energy left between them, J; NaN where a data gap hides it. */
  list: number[];
  /** Where in the list the first one is that is still needed. */
  first: number;
}

/** What the arcs have left on the passage at hand, as far as it is needed to judge the places that wait. */
export interface SeamHeat {
  arcs: ArcDeposits[];
  /** 1 forwards, -1 backwards; 0 before the carriage has moved. */
  direction: number;
}

/** Numbers of a deposit. */
const deposit = 3;
/** Deposits that are no longer needed go when there are so many of them. */
const mostUnneeded = 64 * deposit;

export function startSeamHeat(): SeamHeat {
  return { arcs: [], direction: 0 };
}

export function cloneSeamHeat(heat: SeamHeat): SeamHeat {
  return { arcs: heat.arcs.map(({ arc, list, first }) => ({ arc, list: list.slice(first), first: 0 })), direction: heat.direction };
}

/** Whether the row goes the other way than those before it: a passage of its own. */
export function turnsBack(heat: SeamHeat, group: RunRowGroup): boolean {
  const direction = Math.sign(group.run.advance);
  return direction !== 0 && heat.direction !== 0 && direction !== heat.direction;
}

export function hasDeposits(heat: SeamHeat, arc: number): boolean {
  return heat.arcs.some((own) => own.arc === arc);
}

/** What an arc left so far is of a passage before. */
export function clearDeposits(heat: SeamHeat, arc: number): void {
  const own = depositsOf(heat, arc);
  own.list = [];
  own.first = 0;
}

export function addDeposits(heat: SeamHeat, group: RunRowGroup, offsets: Readonly<Record<number, number>>): void {
  const direction = Math.sign(group.run.advance);
  if (direction !== 0) heat.direction = direction;
  for (const { arc, row } of group.arcs) {
    if (!(row.on > 0) || Number.isNaN(row.length)) continue;
    const from = row.travelled - (offsets[arc] ?? 0);
    depositsOf(heat, arc).list.push(from, from + direction * row.length, row.energy);
  }
  if (group.run.gap > 0) hideGap(heat, group);
}

function depositsOf(heat: SeamHeat, arc: number): ArcDeposits {
  for (const own of heat.arcs) if (own.arc === arc) return own;
  const begun: ArcDeposits = { arc, list: [], first: 0 };
  heat.arcs.push(begun);
  // In order of their number: a sum of floating-point numbers depends on it.
  heat.arcs.sort((a, b) => a.arc - b.arc);
  return begun;
}

/** The arcs that sent nothing in a row with a data gap went on, and nobody knows with what. */
function hideGap(heat: SeamHeat, group: RunRowGroup): void {
  for (const { arc, list } of heat.arcs) {
    const last = list[list.length - deposit + 1];
    const row = arcRow(group, arc);
    if (last === undefined || (row !== undefined && row.gap === 0)) continue;
    const hidden = group.run.advance - Math.sign(group.run.advance) * (row?.length ?? 0);
    list.push(last, last + hidden, Number.NaN);
  }
}

/**
 * Heat input at a place, kJ/mm: of each arc the energy over the length within `reach` to both sides, added over the
 * arcs. Null where no arc left anything, and where a data gap hides what one left.
 */
export function heatAt(heat: SeamHeat, place: number, reach: number, thermalEfficiency: number): number | null {
  let sum = 0;
  let any = false;
  for (const { list, first } of heat.arcs) {
    let energy = 0;
    let length = 0;
    for (let at = first; at < list.length; at += deposit) {
      const from = list[at] ?? 0;
      const to = list[at + 1] ?? 0;
      const left = list[at + 2] ?? 0;
      const low = Math.min(from, to);
      const high = Math.max(from, to);
      const within = Math.min(high, place + reach) - Math.max(low, place - reach);
      if (within < 0) continue;
      // Where the carriage stands, all of it falls on the one place.
      energy += high === low ? left : left * (within / (high - low));
      length += within;
    }
    if (length === 0) continue;
    any = true;
    sum += energy / length;
  }
  return any && !Number.isNaN(sum) ? (sum / 1e3) * thermalEfficiency : null;
}

/** Forgets what lies further than `reach` behind the oldest place that still waits. */
export function forgetBehind(heat: SeamHeat, place: number, reach: number): void {
  for (const own of heat.arcs) {
    const { list } = own;
    let { first } = own;
    while (first < list.length && !((place - (list[first + 1] ?? 0)) * heat.direction <= reach)) first += deposit;
    // Where all lies behind, it stays, as does the last one before a gap.
    if (first === list.length) continue;
    own.first = first;
    if (first < mostUnneeded) continue;
    own.list = list.slice(first);
    own.first = 0;
  }
}

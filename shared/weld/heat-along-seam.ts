import type { RunRowGroup } from './row.js';

/** Energy that one arc left between two places, J and mm; NaN where a data gap hides it. */
interface Deposit {
  readonly from: number;
  readonly to: number;
  readonly energy: number;
}

/** What the arcs have left on the passage at hand, as far as it is needed to judge the places that wait. */
export interface SeamHeat {
  deposits: Record<number, Deposit[]>;
  /** 1 forwards, -1 backwards; 0 before the carriage has moved. */
  direction: number;
}

export function startSeamHeat(): SeamHeat {
  return { deposits: {}, direction: 0 };
}

export function cloneSeamHeat(heat: SeamHeat): SeamHeat {
  const deposits: SeamHeat['deposits'] = {};
  for (const [arc, list] of Object.entries(heat.deposits)) deposits[Number(arc)] = list.slice();
  return { deposits, direction: heat.direction };
}

/** Whether the row goes the other way than those before it: a passage of its own. */
export function turnsBack(heat: SeamHeat, group: RunRowGroup): boolean {
  const direction = Math.sign(group.run.advance);
  return direction !== 0 && heat.direction !== 0 && direction !== heat.direction;
}

export function addDeposits(heat: SeamHeat, group: RunRowGroup, offsets: Readonly<Record<number, number>>): void {
  const direction = Math.sign(group.run.advance);
  if (direction !== 0) heat.direction = direction;
  for (const { arc, row } of group.arcs) {
    if (!(row.on > 0) || Number.isNaN(row.length)) continue;
    const from = row.travelled - (offsets[arc] ?? 0);
    (heat.deposits[arc] ??= []).push({ from, to: from + direction * row.length, energy: row.energy });
  }
  if (group.run.gap > 0) hideGap(heat, group);
}

/** The arcs that sent nothing in a row with a data gap went on, and nobody knows with what. */
function hideGap(heat: SeamHeat, group: RunRowGroup): void {
  for (const [arc, list] of Object.entries(heat.deposits)) {
    const last = list.at(-1);
    const row = group.arcs.find((own) => own.arc === Number(arc))?.row;
    if (last === undefined || (row !== undefined && row.gap === 0)) continue;
    const hidden = group.run.advance - Math.sign(group.run.advance) * (row?.length ?? 0);
    list.push({ from: last.to, to: last.to + hidden, energy: Number.NaN });
  }
}

/**
 * Heat input at a place, kJ/mm: of each arc the energy over the length within `reach` to both sides, added over the
 * arcs. Null where no arc left anything, and where a data gap hides what one left.
 */
export function heatAt(heat: SeamHeat, place: number, reach: number, thermalEfficiency: number): number | null {
  let sum = 0;
  let any = false;
  for (const list of Object.values(heat.deposits)) {
    let energy = 0;
    let length = 0;
    for (const deposit of list) {
      const low = Math.min(deposit.from, deposit.to);
      const high = Math.max(deposit.from, deposit.to);
      const within = Math.min(high, place + reach) - Math.max(low, place - reach);
      if (within < 0) continue;
      // Where the carriage stands, all of it falls on the one place.
      energy += high === low ? deposit.energy : deposit.energy * (within / (high - low));
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
  for (const [arc, list] of Object.entries(heat.deposits)) {
    const first = list.findIndex((deposit) => (place - deposit.to) * heat.direction <= reach);
    if (first > 0) heat.deposits[Number(arc)] = list.slice(first);
  }
}

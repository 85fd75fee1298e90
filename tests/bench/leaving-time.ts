import type { Window } from '../../shared/weld/procedure/run-windows.js';
import type { DriftingName } from '../../shared/weld/quantities.js';
import type { RunRowGroup } from '../named-rows.js';

/**
 * When a quantity of arc 1 really leaves its window, s from row 0: the middle of the first row whose judged value is outside and stays there for
 * 1 s. Written from the rules alone: the mean over 1 s centred on the row, for heat input over 50 mm around it. Null where it never does.
 */
export function leavingTime(rows: readonly RunRowGroup[], quantity: DriftingName, { min = -Infinity, max = Infinity }: Window): number | null {
  let outside = 0;
  for (let at = 0; at < rows.length; at += 1) {
    const value = quantity === 'heatInput' ? heatAround(rows, at) : meanAround(rows, at, quantity);
    outside = value > max || value < min ? outside + 1 : 0;
    if (outside === 10) return (at - 9 + 0.5) / 10;
  }
  return null;
}

function meanAround(rows: readonly RunRowGroup[], at: number, quantity: Exclude<DriftingName, 'heatInput'>): number {
  let sum = 0;
  let weights = 0;
  for (let step = -5; step <= 5; step += 1) {
    const group = rows[at + step];
    const row = group?.arcs[0]?.row;
    if (group === undefined || row === undefined) continue;
    const weight = Math.abs(step) === 5 ? 0.5 : 1;
    sum += weight * (quantity === 'travelSpeed' ? group.run.travelSpeed : quantity === 'wireFeedSpeed' ? row.wireFeedSpeed : row[quantity] / row.on);
    weights += weight;
  }
  return sum / weights;
}

function heatAround(rows: readonly RunRowGroup[], at: number): number {
  const place = rows[at]?.run.travelled ?? 0;
  let energy = 0;
  let length = 0;
  for (const step of [-1, 1]) {
    for (let n = step < 0 ? at : at + 1; ; n += step) {
      const group = rows[n];
      if (group === undefined || Math.abs(group.run.travelled - place) > 25) break;
      energy += group.arcs[0]?.row.energy ?? 0;
      length += group.run.length;
    }
  }
  return energy / length / 1000;
}

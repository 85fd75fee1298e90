import type { ArcRow, RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';

/** The row at hand, and those around it in order of index. */
export interface RowNeighbours {
  readonly before: readonly RunRowGroup[];
  readonly row: RunRowGroup;
  readonly after: readonly RunRowGroup[];
}

/** Mean of an arc's quantity over `smoothing` µs centred on the row's middle (0: the row itself), weighted by time. Null where it was not sent. */
export function judgedArcValue(around: RowNeighbours, arc: number, quantity: 'current' | 'voltage' | 'wireFeedSpeed', smoothing: number): number | null {
  return centredMean(around, smoothing, (group, weight, sum) => {
    const row = arcRow(group, arc);
    if (row === undefined || row.on === 0) return;
    if (quantity === 'wireFeedSpeed') {
      if (row.feedTime > 0) addWeighted(sum, row.wireFeedSpeed * row.feedTime, row.feedTime, weight);
    } else {
      addWeighted(sum, Math.abs(judgedIntegral(row, quantity)), row.on, weight);
    }
  });
}

/** Mean travel speed, mm/min, over the same time; null where no speed is known. */
export function judgedSpeed(around: RowNeighbours, smoothing: number): number | null {
  return centredMean(around, smoothing, ({ run }, weight, sum) => {
    if (run.speedTime > 0) addWeighted(sum, run.speed, run.speedTime, weight);
  });
}

interface WeightedSum {
  value: number;
  time: number;
}

function addWeighted(sum: WeightedSum, value: number, time: number, weight: number): void {
  sum.value += value * weight;
  sum.time += time * weight;
}

function centredMean(around: RowNeighbours, smoothing: number, add: (group: RunRowGroup, weight: number, sum: WeightedSum) => void): number | null {
  const sum = { value: 0, time: 0 };
  const reach = smoothing / 2;
  const { index } = around.row.run;
  add(around.row, 1, sum);
  for (let at = around.before.length - 1; at >= 0; at -= 1) {
    const group = around.before[at];
    if (group === undefined || !addNeighbour(group, index - group.run.index, reach, sum, add)) break;
  }
  for (const group of around.after) if (!addNeighbour(group, group.run.index - index, reach, sum, add)) break;
  return sum.time > 0 ? sum.value / sum.time : null;
}

/** A row that lies half within the reach counts half. */
function addNeighbour(group: RunRowGroup, distance: number, reach: number, sum: WeightedSum, add: (group: RunRowGroup, weight: number, sum: WeightedSum) => void): boolean {
  const weight = Math.min(1, (reach + rowLength / 2 - distance * rowLength) / rowLength);
  if (weight <= 0) return false;
  add(group, weight, sum);
  return true;
}

export function arcRow(group: RunRowGroup, arc: number): ArcRow | undefined {
  for (const own of group.arcs) if (own.arc === arc) return own.row;
  return undefined;
}

/** ∫ over the row of what is judged: an alternating arc by the RMS of the row, any other by its mean. */
export function judgedIntegral(row: ArcRow, quantity: 'current' | 'voltage'): number {
  if ((row.flags & arcRowFlags.alternating) === 0) return row[quantity];
  return Math.sqrt((quantity === 'current' ? row.currentSquared : row.voltageSquared) * row.on);
}

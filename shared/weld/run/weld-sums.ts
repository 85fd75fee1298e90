import { judgedIntegral } from '../judging/judged-integral.js';
import { spreadNames, type SpreadName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { arcColumn, columnOf } from '../rows/row.js';
import { spreadColumn } from '../rows/spread-sum.js';
import { toldAbsences, type Absence, type Absences, type ToldAbsences } from './absence.js';

/** What one arc did in the weld zone, as sums over its rows in their order; a row that is weld in part counts with that share. */
export interface WeldSums {
  /** J and mm. */
  energy: number;
  length: number;
  /** s with the arc on, and the integrals of its judged current and voltage over that time, A·s and V·s. */
  time: number;
  current: number;
  voltage: number;
  /** Each sent quantity: s for which it is known, and its integral over that time; in the order of `spreadNames`. */
  spreads: { time: number; sum: number }[];
}

export function startWeldSums(): WeldSums {
  return { energy: 0, length: 0, time: 0, current: 0, voltage: 0, spreads: spreadNames.map(() => ({ time: 0, sum: 0 })) };
}

export function cloneWeldSums(sums: WeldSums): WeldSums {
  return { ...sums, spreads: sums.spreads.map((own) => ({ ...own })) };
}

/** Adds the `share` (above 0, at most 1) of an arc's row that is weld. */
export function addWeldRow(sums: WeldSums, rows: Float64Array, own: number, share: number): void {
  sums.energy += columnOf(rows, own, arcColumn.energy) * share;
  sums.length += columnOf(rows, own, arcColumn.length) * share;
  const on = columnOf(rows, own, arcColumn.on);
  // The columns of a row without arc-on time describe the dark arc.
  if (!(on > 0)) return;
  sums.time += on * share;
  sums.current += Math.abs(judgedIntegral(rows, own, 'current')) * share;
  sums.voltage += Math.abs(judgedIntegral(rows, own, 'voltage')) * share;
  for (let k = 0; k < spreadNames.length; k += 1) {
    const name = spreadNames[k];
    const sum = sums.spreads[k];
    if (name === undefined || sum === undefined) continue;
    const { mean, time } = spreadColumn[name];
    const known = columnOf(rows, own, time);
    if (!(known > 0)) continue;
    sum.time += known * share;
    sum.sum += columnOf(rows, own, mean) * known * share;
  }
}

/**
 * Means over the weld zone of one arc, as windows judge them: amounts of current (A) and voltage (V), the RMS of each row that alternates, and sent
 * quantities in their unit of the API. Null with the reason where the arc was not on in the weld zone, or the quantity was not sent there.
 */
export interface WeldMeans extends Readonly<Record<SpreadName, number | null>>, ToldAbsences {
  readonly arc: number;
  readonly current: number | null;
  readonly voltage: number | null;
}

export function weldMeans(arc: number, sums: WeldSums | undefined): WeldMeans {
  const reasons: Absences = {};
  const meanOf = (name: string, sum: number, time: number, why: Absence): number | null => {
    if (time > 0) return sum / time;
    reasons[name] = why;
    return null;
  };
  const { time, current, voltage, spreads } = sums ?? startWeldSums();
  const nowhere: Absence = { code: 'noWeldZone' };
  return {
    arc, current: meanOf('current', current, time, nowhere), voltage: meanOf('voltage', voltage, time, nowhere),
    ...recordOf(spreadNames, (name, place) => {
      const own = spreads[place] ?? { time: 0, sum: 0 };
      return meanOf(name, own.sum, own.time, time > 0 ? { code: 'notSent', quantity: name } : nowhere);
    }),
    ...toldAbsences(reasons),
  };
}

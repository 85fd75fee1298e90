import type { ArcSums } from './arc-sums.js';
import type { DataGap } from './run-state.js';
import { spreadOf } from '../rows/spread-sum.js';

/** Density of unalloyed steel, kg/m³; the usual value for steel wire. */
const steelDensity = 7850;

/** Mass per metre fed, kg: (π/4)·d²·density for each of `count` wires of `diameter` mm that are fed side by side. */
export function wireMass(diameter: number, count: number): number {
  return (Math.PI / 4) * (diameter / 1e3) ** 2 * steelDensity * count;
}

/**
 * Length of each wire that an arc has melted so far, m: the integral of its feed. Arc time with no known feed, and data gaps, in which the arc burnt
 * unseen, count with the mean feed. Null where no feed was sent.
 */
export function meltedLength(sums: Pick<ArcSums, 'on' | 'spreads'> | undefined, gaps: readonly Pick<DataGap, 'from' | 'to'>[]): number | null {
  if (sums === undefined) return null;
  const feed = spreadOf(sums.spreads, 'wireFeedSpeed');
  if (!(feed.time > 0)) return null;
  const mean = feed.sum / feed.time;
  const unseen = gaps.reduce((sum, { from, to }) => sum + (to - from) / 1e6, 0);
  return (mean * (sums.on + unseen)) / 60;
}

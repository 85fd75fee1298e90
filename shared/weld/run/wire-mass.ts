import type { ArcSums } from './arc-sums.js';
import type { DataGap } from './run-state.js';
import { spreadOf } from '../rows/spread-sum.js';

/** Of unalloyed steel, kg/m³; the usual value for wire of steel. */
export const steelDensity = 7850;

/** kg per metre fed: (π/4)·d²·density for each of `count` wires of `diameter` mm that are fed side by side. */
export function wireMass(diameter: number, count: number, density = steelDensity): number {
  return (Math.PI / 4) * (diameter / 1e3) ** 2 * density * count;
}

/**
 * m of each wire that an arc has melted so far: the integral of its feed. Arc time for which no feed is known, and data gaps, in which the arc burnt
 * unseen, count with its mean. Null where no feed was sent.
 */
export function meltedLength(sums: Pick<ArcSums, 'on' | 'spreads'> | undefined, gaps: readonly Pick<DataGap, 'from' | 'to'>[]): number | null {
  if (sums === undefined) return null;
  const feed = spreadOf(sums.spreads, 'wireFeedSpeed');
  if (!(feed.time > 0)) return null;
  const mean = feed.sum / feed.time;
  const unseen = gaps.reduce((sum, { from, to }) => sum + (to - from) / 1e6, 0);
  return (mean * (sums.on + unseen)) / 60;
}

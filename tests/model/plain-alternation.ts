import type { PlainArc, Segment } from './plain-types.js';
import { rootMeanSquare, sum, weightedMean, type Weighted } from './weighted.js';

const secondsOf = (segment: Segment): number => (segment.end - segment.start) / 1_000_000;
const weighted = (segments: readonly Segment[], of: 'current' | 'voltage'): Weighted[] => segments.map((segment) => ({ value: segment[of], weight: secondsOf(segment) }));

/**
 * The figures of alternating current, or the ripple of direct current, from the samples of an arc while it burnt; `energy` is the arc's, kJ, and `signed` says
 * whether its sensors send signs.
 */
export function plainAlternation(segments: readonly Segment[], alternating: boolean, energy: number, signed: boolean): Pick<PlainArc, 'ac' | 'ripple'> {
  const time = sum(segments.map(secondsOf));
  if (time === 0) return { ac: null, ripple: null };
  const isFast = segments.every(({ interval }) => interval !== null && interval <= 1_000);
  const mean = weightedMean(weighted(segments, 'current'));
  if (!alternating) return { ac: null, ripple: !isFast || mean === 0 ? null : rippleOf(segments, time) / Math.abs(mean) };
  const currentRms = rootMeanSquare(weighted(segments, 'current'));
  const voltageRms = rootMeanSquare(weighted(segments, 'voltage'));
  const fast = (value: number): number | null => (isFast && signed ? value : null);
  const positive = sum(segments.filter(({ current }) => current > 0).map(secondsOf));
  return { ripple: null, ac: { currentRms, voltageRms, balance: fast(positive / time), currentOffset: fast(mean), powerFactor: fast((energy * 1e3) / (currentRms * voltageRms * time)) } };
}

/** RMS of the difference between each sample and the mean of its 100 ms row, A. */
function rippleOf(segments: readonly Segment[], time: number): number {
  const rows = new Map<number, Segment[]>();
  for (const segment of segments) {
    const row = rows.get(segment.row);
    if (row === undefined) rows.set(segment.row, [segment]);
    else row.push(segment);
  }
  const squares = [...rows.values()].map((row) => {
    const mean = weightedMean(weighted(row, 'current'));
    return sum(row.map((segment) => (segment.current - mean) ** 2 * secondsOf(segment)));
  });
  return Math.sqrt(sum(squares) / time);
}

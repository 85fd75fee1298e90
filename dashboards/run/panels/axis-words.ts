import { formatNumber } from '../../shared/format.js';
import { formatRunTime } from '../../shared/times.js';
import type { Axis } from '../run-view.js';

export const axisNames: Readonly<Record<Axis, string>> = {
  time: 'Time from the start, min:s',
  travelled: 'Travelled, mm',
  seamPosition: 'Place on the seam, mm from the datum',
};

/** A place of the cursor, with its unit. */
export function placeWords(axis: Axis, at: number): string {
  return axis === 'time' ? `${formatRunTime(at, 1)} min:s` : `${formatNumber(at, 1)} mm`;
}

/** The places beside an axis; as many decimals as tell neighbours apart. */
export function tickWords(axis: Axis, ticks: readonly number[]): string[] {
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0));
  const decimals = step >= 1 ? 0 : step >= 0.1 ? 1 : step >= 0.01 ? 2 : 3;
  return ticks.map((at) => (axis === 'time' ? formatRunTime(at, decimals) : formatNumber(at, decimals)));
}

/** Steps between ticks that people count in: of minutes and seconds, or tens. */
export const timeSteps = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200, 86_400];

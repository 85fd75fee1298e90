import type { Window } from '../procedure/run-windows.js';
import type { Absence, Absences } from '../run/absence.js';
import { tidy } from '../run/run-figures.js';
import { controlChart, meanOf, type ControlChart } from './control-chart.js';

/** Figures from fewer runs than this are given, and marked as made from few. Common practice, no source. */
const enoughRuns = 25;

/** How steady a process is and how well it fits between its limits; everything but the four indices is in the unit of the values. */
export interface Capability {
  readonly mean: number | null;
  readonly standardDeviation: number | null;
  readonly movingRange: number | null;
  readonly spread: number | null;
  /** Control limits, which come from the values; those of the procedure are its window. */
  readonly limits: ControlChart['limits'] | null;
  /** By the spread from run to run. */
  readonly cp: number | null;
  readonly cpk: number | null;
  /** By the standard deviation of all values. */
  readonly pp: number | null;
  readonly ppk: number | null;
  readonly signals: ControlChart['signals'];
  readonly few: boolean;
  /** Why figures are null. */
  readonly reasons: Absences;
}

const figureNames = ['mean', 'standardDeviation', 'movingRange', 'spread', 'limits', 'cp', 'cpk', 'pp', 'ppk'] as const;

/**
 * Capability (Cp, Cpk: by the spread from run to run) and performance (Pp, Ppk: by the standard deviation) of values in their order, in the terms of ISO 22514; formulas:
 * NIST/SEMATECH e-Handbook 6.1.6. (max − min)/(6·s), and min(max − mean, mean − min)/(3·s); a window of one end gives cpk and ppk of that side alone.
 * Nothing is divided by 0: such a figure is null, with its reason.
 */
export function capability(values: readonly number[], window: Window | null): Capability {
  const chart = controlChart(values);
  const few = values.length < enoughRuns;
  const reasons: Absences = {};
  if (chart === null) {
    for (const name of figureNames) if (name !== 'mean' || values.length === 0) reasons[name] = { code: 'fewRuns' };
    return {
      mean: values.length === 0 ? null : tidy(meanOf(values)), standardDeviation: null, movingRange: null, spread: null, limits: null,
      cp: null, cpk: null, pp: null, ppk: null, signals: [], few, reasons,
    };
  }
  const { mean, standardDeviation, movingRange, spread, limits, signals } = chart;
  const give = (name: 'cp' | 'cpk' | 'pp' | 'ppk', deviation: number, width: number | Absence): number | null => {
    const index = typeof width === 'number' ? width / deviation : Number.NaN;
    if (Number.isFinite(index)) return index;
    reasons[name] = typeof width === 'number' ? { code: 'noSpread' } : width;
    return null;
  };
  const both = wholeWidth(window);
  const side = nearestSide(window, mean);
  return tidy({
    mean, standardDeviation, movingRange, spread, limits,
    cp: give('cp', spread, both), cpk: give('cpk', spread, side), pp: give('pp', standardDeviation, both), ppk: give('ppk', standardDeviation, side),
    signals, few, reasons,
  });
}

/** A sixth of the distance between both ends, or why there is none. */
function wholeWidth(window: Window | null): number | Absence {
  if (window?.min !== undefined && window.max !== undefined) return (window.max - window.min) / 6;
  return { code: window === null || (window.min === undefined && window.max === undefined) ? 'noLimits' : 'oneLimit' };
}

/** A third of the distance from the mean to the nearer end; negative where the mean lies outside. */
function nearestSide(window: Window | null, mean: number): number | Absence {
  const sides = [...(window?.min === undefined ? [] : [mean - window.min]), ...(window?.max === undefined ? [] : [window.max - mean])];
  return sides.length === 0 ? { code: 'noLimits' } : Math.min(...sides) / 3;
}

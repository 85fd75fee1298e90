import { formatRunTime } from '../../shared/times.js';
import { formatNumber, fromUnit, inUnit, unitOf } from '../../shared/units.js';
import type { Axis } from '../run-view.js';
import { panelWords } from './panel-words.js';

/** A place of the axis as it is drawn: s, degrees, or mm in the chosen unit. */
export function toDrawn(axis: Axis, at: number): number {
  return axis === 'time' ? at : inUnit(axis, at);
}

/** A drawn place in s or mm. */
export function fromDrawn(axis: Axis, drawn: number): number {
  return axis === 'time' ? drawn : fromUnit(axis, drawn);
}

export function axisName(axis: Axis): string {
  return panelWords()[axis];
}

/** The title of the axis below the traces. */
export function axisTitle(axis: Axis): string {
  const say = panelWords();
  if (axis === 'time') return say.timeAxis;
  if (axis === 'degrees') return say.degreesAxis;
  return axis === 'travelled' ? say.travelledAxis(unitOf(axis)) : say.seamAxis(unitOf(axis));
}

/** The digits of a place on the axis, without the unit. */
export function placeDigits(axis: Axis, at: number): string {
  return axis === 'time' ? formatRunTime(at, 1) : formatNumber(inUnit(axis, at), unitOf(axis) === 'in' ? 2 : 1);
}

/** A place of the axis with its unit. */
export function placeText(axis: Axis, at: number): string {
  return `${placeDigits(axis, at)} ${axis === 'time' ? panelWords().minutesSeconds : unitOf(axis)}`;
}

/** The places beside an axis, as drawn. */
export function tickTexts(axis: Axis, ticks: readonly number[]): string[] {
  const decimals = decimalsOf(ticks);
  return ticks.map((at) => (axis === 'time' ? formatRunTime(at, decimals) : formatNumber(at, decimals)));
}

/** The fewest decimals that write every tick exactly, so that no label is off its line: steps of 2.5 need one decimal, as steps of 0.5 do. */
export function decimalsOf(ticks: readonly number[]): number {
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0)) || 1;
  for (let decimals = 0; decimals < 6; decimals += 1) {
    const scale = 10 ** decimals;
    if (ticks.every((at) => Math.abs(Math.round(at * scale) / scale - at) < step * 1e-6)) return decimals;
  }
  return 6;
}

/** Steps between ticks that people count in: of minutes and seconds, or tens. */
export const timeSteps = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200, 86_400];

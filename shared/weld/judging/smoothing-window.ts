import { windowsOnRows, type JudgedWindow } from '../procedure/judged-window.js';
import { judgedIntegral } from './judged-integral.js';
import { quantities } from '../quantities.js';
import { arcColumn, columnOf, rowLength, runColumn } from '../rows/row.js';
import { arcRow } from '../rows/row-group.js';
import { addVariation, cloneVariation, startVariation, variationOf, type RunningVariation } from './running-variation.js';
import type { RunWindows } from '../procedure/run-windows.js';
import { allOut } from '../rows/zone-spans.js';
import { spreadColumn } from '../rows/spread-sum.js';
import type { PendingRow } from './pending-row.js';

/** The contributions of a run's rows to its judged values, in plain lists of numbers, since smoothing reads a dozen of them for each value. */
export interface SmoothingWindow {
  readonly followed: readonly JudgedWindow[];
  /** The time to both sides over which a judged value is the mean, µs. */
  readonly reach: number;
  /** Number of the first row in the lists. */
  first: number;
  /** The index of each row, and the number of the burning period that it belongs to; a period ends when all arcs are out. */
  indexes: number[];
  burnings: number[];
  /** The burning period of the next row. */
  burning: number;
  /** For each followed quantity and row: its integral over the time in which it was sent, and that time, s; 0 and 0 where it was not sent. */
  values: number[][];
  times: number[][];
  variations: RunningVariation[];
}

export function startSmoothing(windows: RunWindows): SmoothingWindow {
  const followed = windowsOnRows(windows);
  const varied = new Set(followed.flatMap(({ arc, quantity }) => (arc !== null && quantities[quantity].judged.by === 'variation' ? [arc] : [])));
  return {
    followed, reach: windows.smoothing / 2, first: 0, indexes: [], burnings: [], burning: 0,
    values: followed.map(() => []), times: followed.map(() => []), variations: [...varied].map(startVariation),
  };
}

export function cloneSmoothing(rows: SmoothingWindow): SmoothingWindow {
  return {
    ...rows, indexes: rows.indexes.slice(), burnings: rows.burnings.slice(), values: rows.values.map((own) => own.slice()),
    times: rows.times.map((own) => own.slice()), variations: rows.variations.map(cloneVariation),
  };
}

/** Adds the next row that will be judged; variation looks back only, so it is known at once. */
export function enterRow(entered: SmoothingWindow, rows: Float64Array, at: number): { readonly number: number; readonly judged: PendingRow['judged'] } {
  for (const variation of entered.variations) {
    const own = arcRow(rows, at, variation.arc);
    if (own !== null) addVariation(variation, rows, own);
  }
  entered.indexes.push(columnOf(rows, at, runColumn.index));
  entered.burnings.push(entered.burning);
  if (allOut(rows, at)) entered.burning += 1;
  const judged: PendingRow['judged'] = [];
  for (let k = 0; k < entered.followed.length; k += 1) {
    const followed = entered.followed[k];
    if (followed !== undefined) judged.push(enterValue(entered, k, followed, rows, at));
  }
  return { number: entered.first + entered.indexes.length - 1, judged };
}

/** Adds the contribution of a row to one quantity; returns its judged value if that is known already. */
function enterValue(entered: SmoothingWindow, k: number, { arc, quantity }: JudgedWindow, rows: Float64Array, at: number): number | null | undefined {
  const own = arc === null ? null : arcRow(rows, at, arc);
  const on = own === null ? 0 : columnOf(rows, own, arcColumn.on);
  switch (quantity) {
    case 'currentVariation':
    case 'voltageVariation':
      for (const variation of entered.variations) if (variation.arc === arc) return variationOf(variation, quantity);
      return null;
    case 'travelSpeed':
      enterSum(entered, k, columnOf(rows, at, runColumn.speed), columnOf(rows, at, runColumn.speedTime));
      break;
    case 'current':
    case 'voltage':
      if (own === null || on === 0) enterSum(entered, k, 0, 0);
      else enterSum(entered, k, Math.abs(judgedIntegral(rows, own, quantity)), on);
      break;
    case 'heatInput':
    case 't85':
      return null;
    default: {
      const { mean, time } = spreadColumn[quantity];
      const sent = own === null || on === 0 ? 0 : columnOf(rows, own, time);
      enterSum(entered, k, own === null || on === 0 ? 0 : columnOf(rows, own, mean) * sent, sent);
    }
  }
  return undefined;
}

function enterSum({ values, times }: SmoothingWindow, k: number, value: number, time: number): void {
  values[k]?.push(time > 0 ? value : 0);
  times[k]?.push(time > 0 ? time : 0);
}

/**
 * Mean of a followed quantity over the smoothing time centred on the middle of a row (0: the row itself), weighted by time, as far as the neighbours
 * are known. Rows on the far side of a moment at which all arcs were out are no neighbours. Null where it was not sent.
 */
export function smoothedValue({ indexes, burnings, values, times, reach, first }: SmoothingWindow, k: number, number: number): number | null {
  const of = values[k] ?? [];
  const over = times[k] ?? [];
  const middle = number - first;
  const index = indexes[middle] ?? 0;
  const burning = burnings[middle];
  let value = of[middle] ?? 0;
  let time = over[middle] ?? 0;
  for (let at = middle - 1; at >= 0; at -= 1) {
    const weight = weightAt(index - (indexes[at] ?? 0), reach);
    if (weight <= 0 || burnings[at] !== burning) break;
    value += (of[at] ?? 0) * weight;
    time += (over[at] ?? 0) * weight;
  }
  for (let at = middle + 1; at < indexes.length; at += 1) {
    const weight = weightAt((indexes[at] ?? 0) - index, reach);
    if (weight <= 0 || burnings[at] !== burning) break;
    value += (of[at] ?? 0) * weight;
    time += (over[at] ?? 0) * weight;
  }
  return time > 0 ? value / time : null;
}

/** A row that lies half within the reach counts half. */
function weightAt(distance: number, reach: number): number {
  return Math.min(1, (reach + rowLength / 2 - distance * rowLength) / rowLength);
}

/** Now and then removes what no row from `number` on looks back at. */
export function forgetRows(rows: SmoothingWindow, number: number): void {
  const needed = number - rows.first - Math.ceil(rows.reach / rowLength) - 1;
  if (needed < 64) return;
  rows.first += needed;
  rows.indexes.splice(0, needed);
  rows.burnings.splice(0, needed);
  for (const list of rows.values) list.splice(0, needed);
  for (const list of rows.times) list.splice(0, needed);
}

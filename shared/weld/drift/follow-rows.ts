import { arcRow, judgedIntegral } from '../judged-values.js';
import type { RunRowGroup } from '../row.js';
import { rowLength } from '../row.js';
import type { Window } from '../run-windows.js';
import type { RunParameters } from '../zone.js';
import type { DriftTrack } from './drift-track.js';
import { addToDrift } from './drift-track.js';

export type DriftQuantity = 'current' | 'voltage' | 'wireFeedSpeed' | 'travelSpeed' | 'heatInput';

export interface Followed {
  readonly arc: number | null;
  readonly quantity: DriftQuantity;
  readonly window: Window;
  readonly track: DriftTrack;
}

const rowsPerSecond = 1e6 / rowLength;

/** Leads an arc's rows from index `since` on through its tracks, as they are judged: current and voltage of an alternating arc by the RMS. */
export function followArc(followed: readonly Followed[], rows: readonly RunRowGroup[], arc: number, since: number, parameters: RunParameters): void {
  if (followed.length === 0) return;
  const offset = parameters.offsets[arc] ?? 0;
  for (const group of rows) {
    if (group.run.index < since || !isBetweenTabs(group.run.travelled - offset, parameters)) continue;
    const row = arcRow(group, arc);
    if (row === undefined || row.on === 0) continue;
    const second = Math.floor(group.run.index / rowsPerSecond);
    for (const { quantity, track } of followed) {
      if (quantity === 'current' || quantity === 'voltage') addToDrift(track, second, Math.abs(judgedIntegral(row, quantity)), row.on);
      else if (row.feedTime > 0) addToDrift(track, second, row.wireFeedSpeed * row.feedTime, row.feedTime);
    }
  }
}

/** The same for travel speed and for heat input: what all arcs put in over what the carriage came on, kJ/mm. */
export function followRun(followed: readonly Followed[], rows: readonly RunRowGroup[], since: number, parameters: RunParameters): void {
  if (followed.length === 0) return;
  for (const { run, arcs } of rows) {
    if (run.index < since || run.on === 0 || !isBetweenTabs(run.travelled, parameters)) continue;
    const second = Math.floor(run.index / rowsPerSecond);
    for (const { quantity, track } of followed) {
      if (quantity === 'travelSpeed') {
        if (run.speedTime > 0) addToDrift(track, second, run.speed, run.speedTime);
      } else if (run.gap === 0) {
        let energy = 0;
        for (const { row } of arcs) if (row.on > 0) energy += row.energy;
        addToDrift(track, second, (energy / 1e3) * parameters.thermalEfficiency, run.length);
      }
    }
  }
}

function isBetweenTabs(place: number, { weldFrom, weldTo, turn }: RunParameters): boolean {
  return place >= weldFrom && place <= weldTo && place <= turn;
}

import { arcRowFlags } from '../../shared/weld/rows/row.js';
import type { AlarmProcedure } from './alarm-types.js';
import type { Delays } from './find-excursions.js';
import { arcsOf, coolingSeries, heatSeries } from './heat-series.js';
import { heatJudged, judgedUpTo } from './judged-rows.js';
import { arcSeries, speedSeries } from './judged-series.js';
import type { KnownRun } from './known-run.js';
import { groupFor, zoneProcedure } from './plain-windows.js';
import { arcWindowNames, type Judged, type PlainWindow, type ZonedRow } from './window-types.js';
import { zonedRows } from './zoned-rows.js';

/** The values known so far of one quantity for which a run is watched. */
export interface WatchedSeries {
  readonly arc: number | null;
  readonly quantity: string;
  readonly window: PlainWindow;
  readonly delays: Delays;
  readonly values: readonly Judged[];
  /** The last judged row. */
  readonly upTo: number;
}

/** The delays of a procedure with their defaults (interface, procedures). */
export function alarmSettings(procedure: AlarmProcedure, applies: boolean): { smoothing: number; heatInputLength: number; delays: { onDelay: number; offDelay: number; deadband: number } } {
  const { smoothing = 1, heatInputLength = 50, onDelay = 1, offDelay = 3, deadband = 0.05 } = (applies ? procedure.alarm : undefined) ?? {};
  return { smoothing, heatInputLength, delays: { onDelay, offDelay, deadband } };
}

/** The speed of the carriage, row by row; rows without a speed are left out. */
function speeds(rows: readonly ZonedRow[]): Judged[] {
  return rows.flatMap((row) => {
    const { on, speed, speedTime } = row.group.run;
    return on > 0 && speedTime > 0 && row.run.burn >= 0 ? [{ row, value: Math.abs(speed / speedTime) }] : [];
  });
}

/** Mean current with its sign, row by row; an alternating current has none. */
function signedCurrents(rows: readonly ZonedRow[], arc: number): Judged[] {
  return rows.flatMap((row) => {
    const own = row.group.arcs.find((entry) => entry.arc === arc)?.row;
    if (own === undefined || own.on <= 0 || (own.flags & arcRowFlags.alternating) !== 0 || (row.arcs.get(arc)?.burn ?? -1) < 0) return [];
    return [{ row, value: own.current / own.on }];
  });
}

/** The judged values of everything for which a run is watched, as they are known at its newest row. */
export function watchedSeries(known: KnownRun, procedure: AlarmProcedure): WatchedSeries[] {
  const { stream, run, groups, newest } = known;
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const { smoothing, heatInputLength, delays } = alarmSettings(procedure, group !== undefined);
  const zones = zoneProcedure(procedure, group);
  const rows = zonedRows(stream, run, zones, groups);
  const upTo = judgedUpTo(known, smoothing);
  const atOnce = (arc: number | null, quantity: string, window: PlainWindow, onDelay: number, values: readonly Judged[]): WatchedSeries => {
    return { arc, quantity, window, delays: { onDelay, offDelay: delays.offDelay, deadband: 'none' }, values, upTo: newest };
  };
  const judged = (arc: number | null, quantity: string, window: PlainWindow, all: readonly Judged[]): WatchedSeries => {
    return { arc, quantity, window, delays, values: all.filter(({ row }) => row.group.run.index <= upTo), upTo };
  };
  const { arcs = [], travelSpeed, heatInput, t85 } = group ?? {};
  const slowest = travelSpeed?.min === undefined ? 30 : 0.2 * travelSpeed.min;
  const watched = [atOnce(null, 'travelStopped', { min: slowest }, 2, speeds(rows))];
  for (const own of arcs) {
    for (const quantity of arcWindowNames) {
      const window = own[quantity];
      if (window !== undefined) watched.push(judged(own.arc, quantity, window, arcSeries(rows, own.arc, quantity, smoothing)));
    }
    if (own.currentType === 'DC' && own.polarity !== undefined)
      watched.push(atOnce(own.arc, 'polarity', own.polarity === 'EP' ? { min: 0 } : { max: 0 }, 1, signedCurrents(rows, own.arc)));
  }
  if (travelSpeed !== undefined) watched.push(judged(null, 'travelSpeed', travelSpeed, speedSeries(rows, smoothing)));
  if (heatInput !== undefined || t85 !== undefined) {
    const places = heatJudged(known, rows, zones.offsets, heatInputLength, upTo);
    const all = heatSeries(rows, zones.offsets, heatInputLength, zones.thermalEfficiency, arcsOf(rows));
    const heat = all.filter(({ row }) => places.has(row));
    if (heatInput !== undefined) watched.push(judged(null, 'heatInput', heatInput, heat));
    if (t85 !== undefined) watched.push(judged(null, 't85', t85, coolingSeries(heat, run.assignment, zones.shape)));
  }
  return watched;
}

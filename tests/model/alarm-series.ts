import { arcRowFlags } from '../../shared/weld/row.js';
import type { RunRowGroup } from '../../shared/weld/row.js';
import type { AlarmProcedure } from './alarm-types.js';
import { judgedBehind } from './heat-reached.js';
import { arcsOf, heatSeries } from './heat-series.js';
import { arcSeries, speedSeries } from './judged-series.js';
import { outRows } from './out-rows.js';
import { groupFor, zoneProcedure } from './plain-windows.js';
import type { RunParts } from './split-runs.js';
import { arcWindowNames, type Judged, type PlainWindow, type ZonedRow } from './window-types.js';
import { zonedRows, type PlainStream } from './zoned-rows.js';

const rowTime = 100_000;

/** A judged value of the weld as it goes on. */
export interface WatchedValue extends Judged {
  /** Number (of 100 ms since 1970) of the row with which it is judged: its own, for heat input one further on. */
  readonly judgedWith: number;
  /** The record has it too: it is in no crater. */
  readonly kept: boolean;
}

/** What is known of a run's arcs going out, by numbers of rows. */
export interface KnownOuts {
  /** Of each burning whose arc went out: the row in which it did, and its crater (µs since 1970). */
  readonly outs: readonly { readonly row: number; readonly crater: number; readonly to: number }[];
  /** The newest row that is judged by its smoothed values when `newest` is there. */
  readonly judgedUpTo: (newest: number) => number;
}

/** What is judged of a run, against one window, in order of the values. */
export interface WatchedSeries {
  readonly arc: number | null;
  readonly quantity: string;
  readonly window: PlainWindow;
  /** s; the deadband is a share of the window's width, and nothing for what is no window of the procedure. */
  readonly onDelay: number;
  readonly offDelay: number;
  readonly deadband: number;
  /** Row by row, whatever the zone and without smoothing. */
  readonly plain: boolean;
  /** The row with which an arc begins that did not pass where these were judged: with it they are values no longer. Infinity where none does. */
  readonly takenBackWith: number;
  readonly values: readonly WatchedValue[];
}

export const rowNumber = (row: ZonedRow): number => Math.round(row.start / rowTime);

/** Travel speed of each row against a fifth of the lower limit, or 30 mm/min. */
function standingSeries(rows: readonly ZonedRow[], min: number | undefined, offDelay: number): WatchedSeries {
  const values = rows.flatMap((row) => {
    const { on, speed, speedTime } = row.group.run;
    if (on <= 0 || speedTime <= 0 || row.run.burn < 0) return [];
    return [{ row, value: Math.abs(speed / speedTime), judgedWith: rowNumber(row), kept: true }];
  });
  return { arc: null, quantity: 'travelStopped', window: { min: min === undefined ? 30 : 0.2 * min }, onDelay: 2, offDelay, deadband: 0, plain: true, takenBackWith: Number.POSITIVE_INFINITY, values };
}

/** Mean current of each row that is not alternating, with its sign, against 0. */
function polaritySeries(rows: readonly ZonedRow[], arc: number, polarity: 'EP' | 'EN', offDelay: number): WatchedSeries {
  const values = rows.flatMap((row) => {
    const own = row.group.arcs.find((entry) => entry.arc === arc)?.row;
    if (own === undefined || own.on <= 0 || (own.flags & arcRowFlags.alternating) !== 0 || (row.arcs.get(arc)?.burn ?? -1) < 0) return [];
    return [{ row, value: own.current / own.on, judgedWith: rowNumber(row), kept: true }];
  });
  return { arc, quantity: 'polarity', window: polarity === 'EP' ? { min: 0 } : { max: 0 }, onDelay: 1, offDelay, deadband: 0, plain: true, takenBackWith: Number.POSITIVE_INFINITY, values };
}

/** Rows before a burning that its judged values can reach back to: 10 s, for variation. */
const reachBack = 100;

/**
 * The judged values of each burning, worked out from the rows up to its end: what is lit again later does not change what was
 * known when all arcs were out.
 */
function asItBurnt(rows: readonly ZonedRow[], make: (rows: readonly ZonedRow[]) => readonly Judged[]): Judged[] {
  const burns = [...new Set(rows.map(({ run }) => run.burn))].filter((burn) => burn >= 0);
  return burns.flatMap((burn) => {
    const first = rows.findIndex(({ run }) => run.burn === burn);
    const last = rows.findLastIndex(({ run }) => run.burn === burn);
    return make(rows.slice(Math.max(0, first - reachBack), last + 1)).filter(({ row }) => row.run.burn === burn);
  });
}

/** Which arcs have burnt in the run, from row to row (their numbers): from the one in which an arc burns first to that of the next such arc. */
function knownArcs(rows: readonly ZonedRow[]): { from: number; to: number; arcs: ReadonlySet<number> }[] {
  const first = [...arcsOf(rows)].map((arc) => Math.min(...rows.filter(({ group }) => group.arcs.some((own) => own.arc === arc && own.row.on > 0)).map(rowNumber)));
  const begins = [...new Set(first)].sort((a, b) => a - b);
  return begins.map((from, i) => ({ from, to: begins[i + 1] ?? Number.POSITIVE_INFINITY, arcs: arcsOf(rows.filter((row) => rowNumber(row) <= from)) }));
}

/** Everything that a run of a procedure is watched for, but for what a restart leaves unwelded. `groups` in order. */
export function watchedSeries(stream: PlainStream, run: RunParts, procedure: AlarmProcedure, groups: readonly RunRowGroup[], known: KnownOuts): WatchedSeries[] {
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const { smoothing = 1, onDelay = 1, offDelay = 3, deadband = 0.05, heatInputLength = 50 } = group === undefined ? {} : (procedure.alarm ?? {});
  const zones = zoneProcedure(procedure, group);
  const rows = zonedRows(stream, run, { ...zones, craterTime: 0 }, groups);
  const standing = standingSeries(rows, group?.travelSpeed?.min, offDelay);
  if (group === undefined) return [standing];
  const recorded = new Map(zonedRows(stream, run, zones, groups).map((row) => [row.start, row]));
  const kept = (row: ZonedRow, arc: number | null): boolean => {
    const own = recorded.get(row.start);
    return own !== undefined && own.run.weld && (arc === null || own.arcs.get(arc)?.weld === true);
  };
  // What is a crater by the time at which it would be judged is none of the weld.
  const knownCrater = new Set(
    rows.filter((row) => known.outs.some(({ row: out, crater, to }) => row.start < to && crater < row.start + rowTime && known.judgedUpTo(out - 1) < rowNumber(row))),
  );
  const watched = (row: ZonedRow, arc: number | null): boolean => kept(row, arc) || !knownCrater.has(row);
  const series = (arc: number | null, quantity: string, window: PlainWindow, make: (rows: readonly ZonedRow[]) => readonly Judged[], judgedWith = rowNumber): WatchedSeries => ({
    arc, quantity, window, onDelay, offDelay, deadband, plain: false, takenBackWith: Number.POSITIVE_INFINITY,
    values: asItBurnt(rows, make).filter((own) => watched(own.row, arc)).map((own) => ({ ...own, judgedWith: judgedWith(own.row), kept: kept(own.row, arc) })),
  });
  const { travelSpeed, heatInput } = group;
  const { offsets, thermalEfficiency } = zones;
  return [
    ...(group.arcs ?? []).flatMap((own) => [
      ...arcWindowNames.flatMap((quantity) => {
        const window = own[quantity];
        return window === undefined ? [] : [series(own.arc, quantity, window, (some) => arcSeries(some, own.arc, quantity, smoothing))];
      }),
      ...(own.currentType === 'DC' && own.polarity !== undefined ? [polaritySeries(rows, own.arc, own.polarity, offDelay)] : []),
    ]),
    ...(travelSpeed === undefined ? [] : [series(null, 'travelSpeed', travelSpeed, (some) => speedSeries(some, smoothing))]),
    ...(heatInput === undefined
      ? []
      : knownArcs(rows).map(({ from, to, arcs }) => {
          const behind = judgedBehind(rows, offsets, heatInputLength, outRows(run, null, stream.base));
          const own = series(null, 'heatInput', heatInput, (some) => heatSeries(some, offsets, heatInputLength, thermalEfficiency, arcs), behind);
          return { ...own, takenBackWith: to, values: own.values.filter(({ judgedWith }) => judgedWith >= from && (judgedWith < to || to === Number.POSITIVE_INFINITY)) };
        })),
    standing,
  ];
}

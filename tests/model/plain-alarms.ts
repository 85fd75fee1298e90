import type { RunRowGroup } from '../../shared/weld/row.js';
import { alarmExcursions, type WatchedExcursion } from './alarm-excursions.js';
import { watchedSeries, type KnownOuts } from './alarm-series.js';
import type { AlarmProcedure, PlainAlarm, PlainMoment } from './alarm-types.js';
import { heatSuppression } from './heat-suppression.js';
import { placeAt } from './motion.js';
import { groupFor, zoneProcedure } from './plain-windows.js';
import { settledByRecord } from './settled-by-record.js';
import type { RunParts } from './split-runs.js';
import { zonedRows, type PlainStream } from './zoned-rows.js';

const rowTime = 100_000;
/** Less than this is no unwelded length: computed places are no better, mm. */
const leastUnwelded = 0.05;

/** What a restart left unwelded, from where the arc stopped; it stands until the run is over. */
function unwelded(stream: PlainStream, run: RunParts): { arc: number; at: PlainMoment; overlap: number }[] {
  const origin = placeAt(stream.moves, Math.min(...run.burns.map(({ from }) => from))).position;
  return [...new Set(run.burns.map(({ arc }) => arc))].flatMap((arc) => {
    const burns = run.burns.filter((burn) => burn.arc === arc).sort((a, b) => a.from - b.from);
    return burns.flatMap((burn, i) => {
      const before = burns[i - 1];
      if (before === undefined || !burn.lit) return [];
      const stopped = placeAt(stream.moves, before.to).position - origin;
      const overlap = stopped - (placeAt(stream.moves, burn.from).position - origin);
      return overlap < -leastUnwelded ? [{ arc, at: { time: burn.from + stream.base, travelled: stopped }, overlap }] : [];
    });
  });
}

/** The alarms of one run of the model. */
export interface RunAlarms {
  /** As far as its rows have come: `newest` is the number (of 100 ms since 1970) of the newest row, Infinity once the run is over. */
  readonly at: (newest: number) => PlainAlarm[];
  /** The border of a zone cuts a row that is not travelled evenly: who knows rows only may be a row off. */
  readonly uneven: boolean;
}

/**
 * The alarms of a run as a function of how far its rows have come. Worked out from the whole run at once; what was known by then is picked out of it.
 */
export function plainAlarms(stream: PlainStream, run: RunParts, procedure: AlarmProcedure, groups: readonly RunRowGroup[]): RunAlarms {
  const rows = [...groups].sort((a, b) => a.run.index - b.run.index);
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const { heatInputLength = 50, smoothing = 1, craterTime = 2 } = (group === undefined ? undefined : procedure.alarm) ?? {};
  const outs = run.burns
    .filter(({ out }) => out)
    .map(({ to }) => ({ row: Math.floor((to + stream.base) / rowTime), crater: to + stream.base - craterTime * 1_000_000, to: to + stream.base }));
  const dark = rows.filter(({ run: row }) => row.on === 0 && row.gap === 0).map(({ run: row }) => row.index);
  /** Rows with which all arcs were out. */
  const allOut = outs.map(({ row }) => row).filter((row) => run.burns.every((burn) => burn.from + stream.base >= (row + 1) * rowTime || (burn.out && (burn.to + stream.base) < (row + 1) * rowTime)));
  const ends = [...dark, ...allOut];
  /** The newest row that is judged by its smoothed values: those half the smoothing behind are there, or nothing can come. */
  const judgedUpTo = (newest: number): number => {
    if (newest === Number.POSITIVE_INFINITY) return newest;
    const out = Math.max(Number.NEGATIVE_INFINITY, ...ends.filter((row) => row <= newest));
    return Math.max(out, Math.floor(newest + 0.5 - (smoothing * 1_000_000) / 2 / rowTime + 1e-9));
  };
  const firstDark = (row: number): number => Math.min(Number.POSITIVE_INFINITY, ...dark.filter((own) => own >= row));
  const known: KnownOuts = { outs, judgedUpTo };
  const excursions = watchedSeries(stream, run, procedure, rows, known).flatMap((series) => alarmExcursions(series, run, stream.base, series.quantity === 'travelStopped' ? firstDark : (row) => row));
  const numbers = rows.map(({ run: row }) => row.index);
  const settled = settledByRecord(known, numbers);
  const offsets = new Map((group?.arcs ?? []).map(({ arc, offset = 0 }) => [arc, offset]));
  const suppressed = heatSuppression(excursions, heatInputLength, offsets, (cause, upTo) => settled(cause, upTo) === 'withdrawn');
  const gaps = unwelded(stream, run);
  const endOfRun = Math.max(...run.burns.map(({ to }) => to)) + stream.base;
  const uneven = zonedRows(stream, run, zoneProcedure(procedure, group), rows).some((row) => row.uneven > 1e-6);
  const at = (newest: number): PlainAlarm[] => {
    const judged = judgedUpTo(newest);
    const of = (own: WatchedExcursion): PlainAlarm[] => {
      const upTo = own.series.plain ? newest : judged;
      if (own.raisedWith > upTo) return [];
      const over = own.endedWith <= upTo;
      const last = own.to?.time ?? Number.POSITIVE_INFINITY;
      const values = own.values.filter((value) => value.judgedWith <= upTo && (!over || value.row.start < last));
      const record = own.series.plain ? null : settled(own, upTo);
      const takenBack = own.series.takenBackWith !== Number.POSITIVE_INFINITY && own.series.takenBackWith <= upTo;
      const kept = record === 'withdrawn' || takenBack ? null : record;
      const withdrawn = record === 'withdrawn' || takenBack;
      return [
        {
          arc: own.series.arc,
          quantity: own.series.quantity,
          limit: own.limit,
          worst: kept?.worst ?? (own.upper ? Math.max : Math.min)(...values.map(({ value }) => value)),
          since: own.from,
          raisedAt: own.raisedAt,
          returnedAt: over ? (kept?.to ?? own.to?.time ?? null) : null,
          withdrawn,
          suppressed: suppressed(own, upTo),
        },
      ];
    };
    const overlaps = gaps
      .filter(({ at }) => Math.floor(at.time / rowTime) <= newest)
      .map(({ arc, at, overlap }) => ({
        arc, quantity: 'overlap', limit: 0, worst: overlap, since: at, raisedAt: at.time,
        returnedAt: newest === Number.POSITIVE_INFINITY ? endOfRun : null, withdrawn: false, suppressed: false,
      }));
    return [...excursions.flatMap(of), ...overlaps];
  };
  return { at, uneven };
}

import type { ZoneStretch } from '../../shared/api-types/trace.js';
import type { TraceReader } from '../../shared/traces/trace-store.js';
import { rowLength } from '../../shared/weld/row.js';
import { isoTime, tidy } from '../../shared/weld/run-figures.js';
import type { RunGeometry } from './run-geometry.js';

/** The zones of a run in order, with the places at which the carriage stood when each began and ended. */
export function runZones({ zones, moving }: Pick<RunGeometry, 'zones' | 'moving'>, traces: Pick<TraceReader, 'readRun'>, run: string): ZoneStretch[] {
  // A zone begins where the last one ends, so most places are requested twice.
  const known = new Map<number, number | null>();
  const placeAt = (time: number): number | null => {
    const held = known.get(time);
    if (held !== undefined) return held;
    const place = moving ? travelledAt(traces, run, time) : null;
    known.set(time, place);
    return place;
  };
  return zones.map(({ zone, from, to, arcs, unpassed }) => ({
    zone, fromTime: isoTime(from), toTime: isoTime(to), fromTravelled: placeAt(from), toTravelled: placeAt(to),
    arcs: [...arcs],
    ...(unpassed === undefined ? {} : { unpassed }),
  }));
}

/** mm travelled at a moment, evenly within its row; a zone may end where the run's last row does. */
function travelledAt(traces: Pick<TraceReader, 'readRun'>, run: string, time: number): number | null {
  const index = Math.floor(time / rowLength);
  const rows = [...traces.readRun(run, index - 1, index + 1)];
  const row = rows.at(-1);
  if (row === undefined) return null;
  const begin = row.index * rowLength + row.from;
  const share = Math.min(1, Math.max(0, (time - begin) / (rowLength - row.from)));
  return tidy(row.travelled + row.advance * share);
}

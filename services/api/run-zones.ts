import type { ZoneStretch } from '../../shared/api-types/trace.js';
import type { TraceReader } from '../../shared/traces/trace-store.js';
import { rowLength } from '../../shared/weld/rows/row.js';
import { valueAt } from '../../shared/weld/rows/row-stretch.js';
import { degreesAt } from '../../shared/weld/procedure/seam-degrees.js';
import { isoTime, tidy } from '../../shared/weld/run/run-figures.js';
import type { runGeometry } from './run-geometry.js';

/** The zones of a run in order, with the places at which the carriage stood when each began and ended. */
export function runZones({ zones, moving, circumference }: Awaited<ReturnType<typeof runGeometry>>, traces: Pick<TraceReader, 'readRunColumns'>, run: string): ZoneStretch[] {
  // A zone begins where the last one ends, so most places are requested twice.
  const known = new Map<number, number | null>();
  const placeAt = (time: number): number | null => {
    const held = known.get(time);
    if (held !== undefined) return held;
    const place = moving ? travelledAt(traces, run, time) : null;
    known.set(time, place);
    return place;
  };
  return zones.map(({ zone, from, to, arcs, unpassed }) => {
    const [fromTravelled, toTravelled] = [placeAt(from), placeAt(to)];
    return {
      zone, fromTime: isoTime(from), toTime: isoTime(to), fromTravelled, toTravelled,
      fromDegrees: tidy(degreesAt(fromTravelled, circumference)), toDegrees: tidy(degreesAt(toTravelled, circumference)),
      arcs: [...arcs],
      ...(unpassed === undefined ? {} : { unpassed }),
    };
  });
}

/** mm travelled at a moment, evenly within its row; a zone may end where the run's last row does. */
function travelledAt(traces: Pick<TraceReader, 'readRunColumns'>, run: string, time: number): number | null {
  const index = Math.floor(time / rowLength);
  const last = [...traces.readRunColumns(run, ['index', 'from', 'travelled', 'advance'], index - 1, index + 1)].findLast(({ count }) => count > 0);
  if (last === undefined) return null;
  const { count, columns: c } = last;
  const from = valueAt(c.from, count - 1);
  const begin = valueAt(c.index, count - 1) * rowLength + from;
  const share = Math.min(1, Math.max(0, (time - begin) / (rowLength - from)));
  return tidy(valueAt(c.travelled, count - 1) + valueAt(c.advance, count - 1) * share);
}

import { useRef } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Trace } from '../../shared/api-types/trace.js';
import { fetchTrace } from '../shared/api.js';
import { serverNow } from '../shared/now.js';
import { seriesName } from '../shared/series-name.js';
import { isDark } from '../shared/trace-extremes.js';
import { useAnswer } from '../shared/use-answer.js';
import { tileReadings, type ReadingName } from './tile-readings.js';
import { newTrend, addToTrend, trendSpan, trendSteps, type Trend } from './trend.js';

/**
 * The trace is read as means over about 1 s, which is what limits are compared with unless the procedure says otherwise. Its extremes are those of single samples:
 * the crests of an alternating arc, and in blocks of 1 ms fluctuations that leave the limits of a sound weld.
 */
const tracePoints = trendSteps * 2;

export type Trends = ReadonlyMap<string, Trend>;

/**
 * The newest minutes of a carriage's values: from the feed while the page is open, and for the time before, or while the page was not connected, from the trace
 * of the current run, which is requested once. The trace does not have heat input as it is judged, so that comes only from the feed.
 */
export function useTrends(carriage: Carriage): Trends {
  const held = useRef<{ readonly trends: Map<string, Trend>; seen: string | null }>({ trends: new Map(), seen: null });
  const { trends } = held.current;
  const { run, runStartedAt, clockOffset, lastSeen } = carriage;
  if (lastSeen !== null && held.current.seen !== lastSeen) {
    held.current.seen = lastSeen;
    for (const { name, arc, value, on } of tileReadings(carriage)) if (on) note(trends, seriesName({ name, arc }), Date.parse(lastSeen), value, value);
  }
  // Requested once, and each time the feed opens: the feed covers runs that begin while the page is open.
  useAnswer(run === null || runStartedAt == null ? null : async (signal) => {
    // The trace counts by the clock of the carriage, the feed by that of the service.
    const start = Date.parse(runStartedAt) + (clockOffset ?? 0) * 1000;
    const from = Math.max(0, (serverNow.peek() - trendSpan - start) / 1000);
    const answer = await fetchTrace(run, { axis: 'time', from, points: tracePoints }, signal);
    if (!answer.ok) return answer;
    addTrace(trends, answer.value, start);
    return { ok: true, value: trends };
  }, []);
  return trends;
}

function addTrace(trends: Map<string, Trend>, trace: Trace, start: number): void {
  for (const own of trace.arcs) {
    own.at.forEach((at, row) => {
      // A trace goes on while another arc burns, or while it waits for one.
      if (at === null || own.current[row] == null || isDark(own, row)) return;
      const time = start + at * 1000;
      const take = (name: ReadingName, arc: number | null, mean: number | null | undefined): void => {
        if (mean != null) note(trends, seriesName({ name, arc }), time, mean, mean);
      };
      take('current', own.arc, own.current[row]);
      take('voltage', own.arc, own.voltage[row]);
      take('travelSpeed', null, own.travelSpeed[row]);
    });
  }
}

function note(trends: Map<string, Trend>, name: string, time: number, least: number, greatest: number): void {
  let own = trends.get(name);
  if (own === undefined) trends.set(name, (own = newTrend()));
  addToTrend(own, time, least, greatest);
}

import type { AlarmProcedure, PlainAlarm } from './alarm-types.js';
import { rowTime, type KnownRun } from './known-run.js';
import { runMoments } from './moments.js';
import { groupFor, zoneProcedure } from './plain-windows.js';
import type { Span } from './plain-types.js';
import { alarmSettings } from './watched-series.js';
import { sum } from './weighted.js';

/** Length of the weld zone over which current and feed are compared, mm, and by how much of it the ratio may be off. */
const compared = 100;
const share = 0.15;
/** Whether the current of a row alternates (flags of a row). */
const alternating = 4;

const overlap = (a: Span, b: Span): number => Math.max(0, Math.min(a.to, b.to) - Math.max(a.from, b.from));

/**
 * The arcs whose current does not go with their feed over the first 100 mm of their weld zone. Only rows count that no crater can reach any more: those
 * that end the crater time, or half the smoothing time and a row, before the newest row does.
 */
export function feedMismatches(known: KnownRun, procedure: AlarmProcedure): PlainAlarm[] {
  const { stream, run, groups, newest } = known;
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const zones = zoneProcedure(procedure, group);
  const behind = Math.max(zones.craterTime * 1_000_000, (alarmSettings(procedure, group !== undefined).smoothing * 1_000_000) / 2 + rowTime);
  const settled = groups.filter((own) => (own.run.index + 1) * rowTime <= (newest + 1) * rowTime - behind).sort((a, b) => a.run.index - b.run.index);
  if (settled.length === 0) return [];
  const weld = runMoments(run, stream.moves, Math.min(...run.burns.map(({ from }) => from)), zones).filter((moment) => moment.weld);
  return (group?.arcs ?? []).flatMap(({ arc, current: allowed, wireFeedSpeed: fed }) => {
    if (allowed?.min === undefined || allowed.max === undefined || fed?.min === undefined || fed.max === undefined) return [];
    const rows = settled.flatMap((own) => {
      const row = own.arcs.find((other) => other.arc === arc)?.row;
      const span = { from: own.run.index * rowTime - stream.base, to: (own.run.index + 1) * rowTime - stream.base };
      const burns = run.burns.filter((burn) => burn.arc === arc && overlap(burn, span) > 0).map((burn) => ({ from: Math.max(burn.from, span.from), to: Math.min(burn.to, span.to) }));
      const burning = sum(burns.map((burn) => burn.to - burn.from));
      const part = burning === 0 ? 0 : sum(burns.map((burn) => sum(weld.map((moment) => overlap(moment, burn))))) / burning;
      return row === undefined || !(row.on > 0) || part <= 1e-9 ? [] : [{ group: own.run, row, part }];
    });
    const sums = { length: 0, time: 0, current: 0, feed: 0, feedTime: 0 };
    for (const { group: carriage, row, part } of rows) {
      const own = row.length * part;
      const counted = part * Math.min(1, own > 0 ? (compared - sums.length) / own : 1);
      const ampereSeconds = Math.floor(row.flags / alternating) % 2 === 1 ? Math.sqrt(row.currentSquared / row.on) * row.on : row.current;
      sums.length += row.length * counted;
      sums.time += row.on * counted;
      sums.current += ampereSeconds * counted;
      sums.feedTime += row.feedTime * counted;
      if (row.feedTime > 0) sums.feed += row.wireFeedSpeed * row.feedTime * counted;
      if (sums.length < compared - 1e-9) continue;
      const ratio = Math.abs(sums.current / sums.time) / (sums.feed / sums.feedTime);
      const middle = (allowed.min + allowed.max) / (fed.min + fed.max);
      if (!(sums.feed > 0) || Math.abs(ratio - middle) <= share * middle) return [];
      const first = rows[0] ?? { group: carriage };
      const over = newest === Number.POSITIVE_INFINITY;
      return [{
        arc, quantity: 'feedMismatch', limit: middle * (ratio > middle ? 1 + share : 1 - share), worst: ratio,
        since: { time: first.group.index * rowTime + first.group.from, travelled: first.group.travelled },
        raisedAt: (carriage.index + 1) * rowTime,
        returnedAt: over ? Math.max(...run.burns.map(({ to }) => to)) + stream.base : null, withdrawn: false, suppressed: false,
      }];
    }
    return [];
  });
}

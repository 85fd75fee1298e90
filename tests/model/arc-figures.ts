import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { countEvents, extinctionRule, shortCircuitRule } from './arc-events.js';
import type { Lighting } from './arc-state.js';
import { plainAlternation } from './plain-alternation.js';
import { plainRawVoltage } from './plain-sensors.js';
import { placeAt, type Move } from './motion.js';
import type { Burn, Gap, PlainArc, Segment, Span, Statistics } from './plain-types.js';
import { rootMeanSquare, sum, weigh, type Weighted } from './weighted.js';

const rowLength = 100_000;
const secondsOf = (span: { readonly start: number; readonly end: number }): number => (span.end - span.start) / 1_000_000;

/** Values cut at the borders of rows, which only those of readings cross. */
function cutAtRows(segments: readonly Segment[]): Segment[] {
  return segments.flatMap((segment) => {
    if (segment.interval !== null) return segment;
    const parts: Segment[] = [];
    for (let start = segment.start; start < segment.end; ) {
      const row = Math.floor(start / rowLength);
      const end = Math.min(segment.end, (row + 1) * rowLength);
      parts.push({ ...segment, start, end, row });
      start = end;
    }
    return parts;
  });
}

/** Rows in which the current or the voltage has both signs, as that of an alternating arc, or of a reading that is less than the drop in the cables: their power has a sign. */
function signedRows(segments: readonly Segment[]): Set<number> {
  const signed = new Set<number>();
  for (const value of ['current', 'voltage'] as const) {
    const signs = new Map<number, number>();
    for (const { row, [value]: own } of segments) {
      if (own === 0) continue;
      if ((signs.get(row) ?? own) * own < 0) signed.add(row);
      signs.set(row, Math.sign(own));
    }
  }
  return signed;
}

/** A row alternates if its current goes beyond this on both sides of zero, A; common practice, no source. */
const swing = 20;

export function alternatingRows(segments: readonly Segment[]): Set<number> {
  const blocks = segments.filter(({ interval }) => interval !== null);
  const up = new Set(blocks.filter(({ current }) => current > swing).map(({ row }) => row));
  return new Set(blocks.filter(({ current, row }) => current < -swing && up.has(row)).map(({ row }) => row));
}

const isIn = (segment: Segment, rows: ReadonlySet<number>): boolean => segment.interval !== null && rows.has(segment.row);

/** Energy of segments, kJ, clipped to `within` if given. */
export function energyOf(segments: readonly Segment[], within: readonly Span[] | null): number {
  const parts = cutAtRows(segments);
  const rows = signedRows(parts);
  let first = 0;
  let energy = 0;
  for (const segment of parts) {
    const power = segment.current * segment.voltage;
    const counted = rows.has(segment.row) ? power : Math.abs(power);
    let seconds = 0;
    if (within === null) seconds = secondsOf(segment);
    else {
      while ((within[first]?.to ?? Number.POSITIVE_INFINITY) <= segment.start) first += 1;
      for (let i = first; i < within.length; i += 1) {
        const span = within[i];
        if (span === undefined || span.from >= segment.end) break;
        seconds += Math.max(0, Math.min(span.to, segment.end) - Math.max(span.from, segment.start)) / 1_000_000;
      }
    }
    energy += (counted * seconds) / 1000;
  }
  return energy;
}

/** Values weighted by time; for an arc on alternating current, each row of its blocks is one value, its RMS. */
function judgedValues(segments: readonly Segment[], alternating: boolean, of: 'current' | 'voltage'): Weighted[] {
  const byRow = new Map<number, Weighted[]>();
  const values: Weighted[] = [];
  for (const segment of segments) {
    const entry = { value: segment[of], weight: secondsOf(segment) };
    if (!alternating || segment.interval === null) {
      values.push(entry);
      continue;
    }
    const row = byRow.get(segment.row);
    if (row === undefined) byRow.set(segment.row, [entry]);
    else row.push(entry);
  }
  for (const row of byRow.values()) values.push({ value: rootMeanSquare(row), weight: sum(row.map((entry) => entry.weight)) });
  return values;
}

/** Whether the current of the arc swung to both sides of zero for at least half of its time. */
export function isMostlyAlternating(segments: readonly Segment[]): boolean {
  const rows = alternatingRows(segments);
  const [swinging, all] = [segments.filter((segment) => isIn(segment, rows)), segments].map((own) => sum(own.map(secondsOf)));
  return all !== undefined && swinging !== undefined && all > 0 && swinging >= all / 2 - 1e-9;
}

const variationOf = (statistics: Statistics | null): number | null =>
  statistics === null || statistics.mean === 0 ? null : statistics.standardDeviation / Math.abs(statistics.mean);

/** Travel of one arc while it burned and sent, mm. */
export function arcLength(burns: readonly Burn[], gaps: readonly Gap[], moves: readonly Move[]): number {
  const travelled = (span: Span): number => placeAt(moves, span.to).distance - placeAt(moves, span.from).distance;
  return sum(burns.map(travelled)) - sum(gaps.map(travelled));
}

/** The figures of one arc of a run; `told`: whether the procedure says that it alternates, and whether its sensors send signs. */
export function arcFigures(
  arc: number,
  burns: readonly Burn[],
  gaps: readonly Gap[],
  lightings: readonly Lighting[],
  moves: readonly Move[],
  travelKnown: boolean,
  settings: WeldSettings,
  told: { readonly alternating: boolean; readonly signed: boolean },
): Omit<PlainArc, 'currentDensity' | 'extension'> {
  const segments = burns.flatMap((burn) => burn.segments);
  const alternating = isMostlyAlternating(segments);
  const quantity = (of: 'current' | 'voltage'): (Statistics & { rms: number }) | null => {
    const statistics = weigh(judgedValues(segments, alternating, of));
    if (statistics === null) return null;
    const all = segments.map((segment) => ({ value: segment[of], weight: secondsOf(segment) }));
    return { ...statistics, rms: rootMeanSquare(all) };
  };
  const current = quantity('current');
  const voltage = quantity('voltage');
  const own = new Set(segments);
  return {
    arc,
    current,
    voltage,
    voltageRaw: plainRawVoltage(segments),
    energy: energyOf(segments, null),
    arcTime: sum(segments.map(secondsOf)),
    length: travelKnown ? arcLength(burns, gaps, moves) : null,
    samples: segments.filter((segment) => segment.begins).length,
    currentVariation: variationOf(current),
    voltageVariation: variationOf(voltage),
    ...plainAlternation(segments, alternating || told.alternating, energyOf(segments, null), told.signed),
    extinctions: countEvents(lightings, own, extinctionRule(settings)),
    shortCircuits: countEvents(lightings, own, shortCircuitRule(settings)),
  };
}

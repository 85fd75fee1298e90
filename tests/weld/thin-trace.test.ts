import { describe, expect, it } from 'vitest';
import { arcRowFlags } from '../../shared/weld/rows/row.js';
import type { RowStretch } from '../../shared/weld/rows/row-stretch.js';
import { speedColumns, thinTrace } from '../../shared/weld/along/thin-trace.js';
import type { TraceInput } from '../../shared/weld/along/thin-trace.js';
import { bucketColumns } from '../../shared/weld/along/trace-bucket.js';
import { asReadings, foldedRows } from '../traces/folded-rows.js';
import type { FoldedRows } from '../traces/folded-rows.js';
import { madeStands } from '../traces/made-rows.js';
import { stretchOf } from '../named-rows.js';
import type { ArcRow } from '../named-rows.js';
import type { ArcColumn, RunColumn } from '../../shared/weld/rows/row.js';

const start = 1_700_000_000_000_000;

function input(rows: FoldedRows, more: Partial<TraceInput> = {}): TraceInput {
  return {
    axis: 'time', points: 1500, start, startOffset: 0, direction: 1, offsets: {}, thermalEfficiency: 1,
    arcs: rows.arcs.map(({ arc, rows: own }) => ({ arc, stretches: [stretchOf<ArcColumn>(own, bucketColumns)] })),
    runRows: [stretchOf<RunColumn>(rows.run, speedColumns)], ...more,
  };
}

function arcOf(more: TraceInput, number = 0): ReturnType<typeof thinTrace>['arcs'][number] {
  const arc = thinTrace(more).arcs[number];
  if (arc === undefined) throw new Error('no such arc');
  return arc;
}

/** Readings every 100 ms from `from` up to and with `to` (s). */
function* readings(from: number, to: number, current: number, voltage: number, travelSpeed: number): Generator<{ time: number; current: number; voltage: number; travelSpeed: number }> {
  const count = Math.round((to - from) * 10) + 1;
  for (let n = 0; n < count; n += 1) yield { time: start + Math.round(from * 1e6) + n * 100_000, current, voltage, travelSpeed };
}

const noisy = foldedRows(asReadings(madeStands({ count: 18_000, start: start + 37_000, interval: 100_000, jitter: 3, seed: 21 })));
const values = (column: readonly (number | null)[]): number[] => column.filter((value) => value !== null);

describe('thinned trace', () => {
  it('brings 18,000 rows to 1,500 buckets of 12 rows and keeps the extremes', () => {
    const trace = thinTrace(input(noisy, { start: start + 37_000 }));
    expect(trace).toMatchObject({ axis: 'time', unit: 's', rows: noisy.arc.length });
    const [arc] = trace.arcs;
    expect(arc?.at.length).toBeGreaterThan(1_380);
    expect(arc?.at.length).toBeLessThanOrEqual(1_500);
    expect(arc?.at[0]).toBe(0);
    const width = Math.ceil(noisy.arc.length / 1500) / 10;
    for (let n = 2; n < 100; n += 1) expect((arc?.at[n] ?? 0) - (arc?.at[n - 1] ?? 0)).toBeCloseTo(width, 9);
    for (const [column, pick] of [['currentMin', (row) => row.minCurrent], ['voltageMin', (row) => row.minVoltage]] as const satisfies [string, (row: ArcRow) => number][]) {
      expect(Math.min(...values(arc?.[column] ?? []))).toBe(Math.min(...noisy.arc.map(pick)));
    }
    for (const [column, pick] of [['currentMax', (row) => row.maxCurrent], ['voltageMax', (row) => row.maxVoltage]] as const satisfies [string, (row: ArcRow) => number][]) {
      expect(Math.max(...values(arc?.[column] ?? []))).toBe(Math.max(...noisy.arc.map(pick)));
    }
    const lengths = Object.entries(arc ?? {}).filter(([name]) => name !== 'arc').map(([, column]) => (column as unknown[]).length);
    expect(new Set(lengths).size, 'all columns are equally long').toBe(1);
  });

  it('gives the same with rows that are read as they are needed, by their known extent', () => {
    const first = noisy.arc[0]?.index ?? 0;
    const extent = { first, last: noisy.arc.at(-1)?.index ?? 0 };
    /** Stretches of a minute, to be gone through once. */
    function* once<Name extends string>(rows: readonly Readonly<Record<Name, number>>[], names: readonly Name[]): Generator<RowStretch<Name>> {
      for (let from = 0; from < rows.length; from += 600) yield stretchOf(rows.slice(from, from + 600), names);
    }
    for (const more of [{}, { from: 100, to: 900 }, { axis: 'travelled' as const }, { axis: 'travelled' as const, from: 500, to: 510 }]) {
      const streamed = thinTrace(input(noisy, { ...more, extent, arcs: [{ arc: 1, stretches: once<ArcColumn>(noisy.arc, bucketColumns) }], runRows: once<RunColumn>(noisy.run, speedColumns) }));
      expect(streamed).toEqual(thinTrace(input(noisy, more)));
    }
  });

  it('gives each row a bucket of its own where there are no more rows than points', () => {
    const rows = foldedRows([...readings(0, 5, 600, 30, 550), ...readings(5.1, 6, 0, 0, 0)]);
    const arc = arcOf(input(rows, { points: rows.arc.length }));
    expect(arc.at).toEqual(rows.arc.map((row) => (row.index * 100_000 - start) / 1e6));
    expect(arc.current.slice(0, 51)).toEqual(Array(51).fill(expect.closeTo(600, 9)));
    // The very last reading applies for no time.
    expect(arc.current.slice(51)).toEqual([...Array<number>(arc.at.length - 52).fill(0), null]);
    expect(arc.travelSpeed.slice(0, 51)).toEqual(Array(51).fill(expect.closeTo(550, 9)));
    // U·I·60 / (v·1000) by EN 1011-1; nothing where the arc is off.
    expect(arc.heatInput.slice(0, 51)).toEqual(Array(51).fill(expect.closeTo(1.963636, 6)));
    expect(values(arc.heatInput.slice(51))).toEqual([]);
    expect(arc.wireFeedSpeed.every((value) => value === null)).toBe(true);
  });

  it('is null in every value column where there is no data, and nowhere NaN', () => {
    const rows = foldedRows([...readings(0, 10, 600, 30, 600), ...readings(15, 25, 600, 30, 600), ...readings(25.1, 28, 0, 0, 0)]);
    const arc = arcOf(input(rows));
    const { at, arc: number, ...columns } = arc;
    expect(number).toBe(1);
    for (const [n, seconds] of at.entries()) {
      const inGap = ((seconds ?? 0) > 10.95 && (seconds ?? 0) < 14.95) || n === at.length - 1;
      expect([seconds, arc.current[n] === null]).toEqual([seconds, inGap]);
      if (inGap) for (const [name, column] of Object.entries(columns)) expect([name, column[n]]).toEqual([name, null]);
    }
    for (const column of Object.values(columns)) expect(column.every((value) => value === null || Number.isFinite(value))).toBe(true);
  });

  it('marks a long hole by one empty bucket where the rows are no more than the points', () => {
    const rows = foldedRows([...readings(0, 1, 600, 30, 600), ...readings(200, 201, 600, 30, 600), ...readings(201.1, 202, 0, 0, 0)]);
    const arc = arcOf(input(rows, { points: 60 }));
    expect(arc.at.length).toBe(rows.arc.length + 1);
    // The hole, and the last reading, which applies for no time.
    expect(arc.current.flatMap((value, n) => (value === null ? [arc.at[n]] : []))).toEqual([expect.closeTo(2, 6), 202]);
    expect(arcOf(input(rows, { points: rows.arc.length })).at.length).toBeLessThanOrEqual(rows.arc.length);
  });

  it('weights means by the time they stand for', () => {
    // 600 A for 30 ms and 400 A for 70 ms of each row: 460 A.
    const rows = foldedRows(Array.from({ length: 200 }, (_, n) => ({ time: start + Math.floor(n / 2) * 100_000 + (n % 2) * 30_000, current: n % 2 === 0 ? 600 : 400, voltage: 30, travelSpeed: 500 })));
    const arc = arcOf(input(rows, { points: 10, to: 9 }));
    expect(arc.current).toEqual(Array(arc.current.length).fill(expect.closeTo(460, 9)));
    expect([arc.currentMin[3], arc.currentMax[3]]).toEqual([400, 600]);
  });

  it('shows an alternating arc by its RMS and keeps the signs of its extremes', () => {
    // A sine of 550 A and 36 V RMS (exact mathematics).
    const sine = (peak: number): number[] => Array.from({ length: 100 }, (_, k) => peak * Math.sin((2 * Math.PI * (k + 0.5)) / 20));
    const block = { interval: 1, count: 100, current: sine(550 * Math.SQRT2), voltage: sine(36 * Math.SQRT2), travelSpeed: 900 };
    const rows = foldedRows(Array.from({ length: 50 }, (_, n) => ({ ...block, time: start + n * 100_000 })));
    expect((rows.arc[10]?.flags ?? 0) & arcRowFlags.alternating).toBe(arcRowFlags.alternating);
    const arc = arcOf(input(rows, { points: 5 }));
    expect(arc.current[2]).toBeCloseTo(550, 6);
    expect(arc.voltage[2]).toBeCloseTo(36, 6);
    // Samples are 2π / 20 apart, so the nearest to the peak lies π / 20 beside it.
    expect(arc.currentMin[2]).toBeCloseTo(-550 * Math.SQRT2 * Math.cos(Math.PI / 20), 9);
    expect(arc.currentMax[2]).toBe(-(arc.currentMin[2] ?? 0));
  });

  it('takes the asked seconds only, and counts their rows', () => {
    const trace = thinTrace(input(noisy, { start: start + 37_000, from: 60, to: 120 }));
    const at = trace.arcs[0]?.at ?? [];
    expect(trace.rows).toBe(601);
    expect(at).toHaveLength(601);
    expect(at[0]).toBeCloseTo(59.963, 6);
    expect(at.at(-1)).toBeCloseTo(119.963, 6);
    expect(thinTrace(input(noisy, { from: 5000 }))).toMatchObject({ rows: 0, arcs: [{ at: [], current: [] }] });
  });

  it('gives places, of each arc its own, towards the datum where the run goes there', () => {
    const items = [...readings(0, 60, 600, 30, 600)].flatMap((item) => [{ ...item, arc: 1 }, { ...item, arc: 2, current: 500 }]).map((item, n) => ({ ...item, seq: Math.floor(n / 2) }));
    const rows = foldedRows(items);
    const more = { axis: 'seamPosition' as const, startOffset: 6060, direction: -1 as const, offsets: { 2: 60 } };
    const trace = thinTrace(input(rows, more));
    expect(trace.unit).toBe('mm');
    expect([trace.arcs[0]?.at[0], trace.arcs[0]?.at[100]]).toEqual([6060, expect.closeTo(5960, 6)]);
    // Arc 2 is 60 mm behind: 6060 − (0 − 60).
    expect(trace.arcs[1]?.at[0]).toBe(6120);
    const part = thinTrace(input(rows, { ...more, from: 5900, to: 5950 }));
    const [lead, trail] = [values(part.arcs[0]?.at ?? []), values(part.arcs[1]?.at ?? [])];
    for (const at of [lead, trail]) {
      expect(at.length).toBeGreaterThanOrEqual(50);
      expect(Math.max(...at)).toBeLessThanOrEqual(5950);
      expect(Math.min(...at)).toBeGreaterThanOrEqual(5900);
    }
    expect(part.rows).toBe(lead.length + trail.length);
    expect(arcOf(input(rows, { axis: 'travelled' }), 1).at[100], 'travelled is the carriage’s').toBeCloseTo(100, 6);
  });

  it.each([0, -1, 1.5, Number.NaN])('refuses %s points', (points) => {
    expect(() => thinTrace(input(noisy, { points }))).toThrow(/points must be a whole number from 1/);
  });
});

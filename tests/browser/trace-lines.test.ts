import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Trace } from '../../shared/api-types/trace.js';
import type { Column } from '../../dashboards/run/panels/align-lines.js';
import { spreadLabels } from '../../dashboards/run/panels/draw-windows.js';
import { lanesOf } from '../../dashboards/run/panels/mark-lanes.js';
import { clamped } from '../../dashboards/run/panels/zoomed.js';
import { alignLines, jointPlaces, valueAt } from '../../dashboards/run/panels/align-lines.js';
import { tickTexts } from '../../dashboards/run/panels/axis-scale.js';
import { readingsAt } from '../../dashboards/run/panels/readings-at.js';
import { judgedLines, passages, traceLines } from '../../dashboards/run/panels/trace-lines.js';
import type { Point } from '../../dashboards/run/panels/trace-lines.js';
import { traceTable } from '../../dashboards/run/panels/trace-table.js';
import { totalLine } from '../../dashboards/run/panels/total-line.js';
import { darkRows, judgedRows, valueRange } from '../../dashboards/run/panels/value-range.js';
import { isDark } from '../../dashboards/shared/trace-extremes.js';
import { unsentTrace } from '../unsent.js';

function point(at: number, mean: number | null): Point {
  return { at, mean, low: mean, high: mean };
}

function arcOf(arc: number, at: (number | null)[], current: (number | null)[]): Trace['arcs'][number] {
  const none = at.map(() => null);
  return { arc, at, current, currentMin: current, currentMax: current, voltage: none, voltageMin: none, voltageMax: none, travelSpeed: none, ...unsentTrace(at.length), heatInput: none, plateTemperature: none };
}

describe('the cooling time of a trace', () => {
  // EN 1011-2, annex D, at 100 °C on 40 mm, three-dimensional: (6700 − 500)·(1/400 − 1/700) = 6.642857 s for each kJ/mm.
  const cooling = { value: 12, form: 'three-dimensional', transitionThickness: 22, heatInput: 1.8, thickness: 40, f2: 1, f3: 1, temperature: 100, temperatureFrom: 'declared' } as const;
  const heated = (arc: number, heatInput: (number | null)[]): Trace['arcs'][number] => ({ ...arcOf(arc, heatInput.map((_, at) => at), heatInput.map(() => 600)), heatInput });
  const meansOf = (arcs: Trace['arcs'], judged: Trace['judged'] = [], known: Parameters<typeof traceTable>[3] = cooling) =>
    traceTable({ axis: 'time', unit: 's', rows: 3, zones: [], arcs, judged }, ['t85'], null, known).columns[0]?.map(({ kind, arc, mean }) => ({ kind, arc, mean }));
  const near = (value: number): number => expect.closeTo(value, 5) as number;

  it('is that of the heat input of each row, all arcs together', () => {
    expect(meansOf([heated(1, [1.8, null, 2])])).toEqual([{ kind: 'raw', arc: 0, mean: [near(11.957143), null, near(13.285714)] }]);
    expect(meansOf([heated(1, [1.8, 1.8]), heated(2, [1.5, 1.2])])).toEqual([{ kind: 'raw', arc: 0, mean: [near(21.921429), near(19.928571)] }]);
  });

  it('is drawn as it was judged where it has limits, and not at all where nothing is known of it', () => {
    const judged = [{ quantity: 't85', arc: null, at: [0, 1], value: [12, 13], min: [12, 13], max: [12, 13] }];
    expect(meansOf([heated(1, [1.8, 1.8])], judged)?.map(({ kind }) => kind)).toEqual(['raw', 'judged']);
    expect(meansOf([heated(1, [1.8, 1.8])], judged, null)).toEqual([{ kind: 'judged', arc: 0, mean: [12, 13] }]);
    expect(meansOf([heated(1, [1.8, 1.8])], [], null)).toEqual([]);
  });
});

describe('lines of a trace', () => {
  it('keep a hole as null and leave out places that only other arcs have', () => {
    const trace: Trace = { axis: 'time', unit: 's', rows: 5, zones: [], arcs: [arcOf(1, [0, 1, 2], [600, null, 610]), arcOf(2, [0.5, 2], [500, 510])] };
    const lines = traceLines(trace, 'current');
    const places = jointPlaces(lines);
    expect(places).toEqual([0, 0.5, 1, 2]);
    const columns = alignLines(lines, places);
    expect(columns.map(({ mean }) => mean)).toEqual([[600, undefined, null, 610], [undefined, 500, undefined, 510]]);
    expect(valueAt(columns[0] ?? { mean: [] }, 1)).toBe(600);
    expect(readingsAt(columns, 2)).toMatchObject([{ arc: 1, value: null }, { arc: 2, value: 500 }]);
    expect(readingsAt(columns, 0)).toMatchObject([{ arc: 1, value: 600, min: 600, max: 610 }, { arc: 2, value: null, min: 500, max: 510 }]);
  });

  it('show the RMS values of an alternating arc, not the crests of its waves', () => {
    // 580 A and 34 V RMS as sines: 820.2 A and 48.1 V at their crests. The last row is direct current.
    const own = {
      ...arcOf(2, [0, 1, 2], [580, 581, 600]), currentMin: [-820.2, -821.7, 590], currentMax: [820.2, 821.7, 615],
      voltage: [34, 34.1, 33], voltageMin: [-48.1, -48.2, 31], voltageMax: [48.1, 48.2, 35],
    };
    const trace: Trace = { axis: 'travelled', unit: 'mm', rows: 3, zones: [], arcs: [own] };
    expect(traceLines(trace, 'current')[0]?.points).toEqual([{ at: 0, mean: 580, low: 580, high: 580 }, { at: 1, mean: 581, low: 581, high: 581 }, { at: 2, mean: 600, low: 590, high: 615 }]);
    expect(traceLines(trace, 'voltage')[0]?.points).toMatchObject([{ low: 34, high: 34 }, { low: 34.1, high: 34.1 }, { low: 31, high: 35 }]);
  });

  it('go on where the current is negative, and stop where the arc is out', () => {
    const own = { ...arcOf(1, [0, 1, 2], [-600, 3, -610]), voltage: [-31, 0.2, -32] };
    const trace: Trace = { axis: 'travelled', unit: 'mm', rows: 3, zones: [], arcs: [own] };
    expect(traceLines(trace, 'current')[0]?.points.map(({ mean }) => mean)).toEqual([-600, null, -610]);
    expect([0, 1, 2].map((index) => isDark(own, index))).toEqual([false, true, false]);
  });

  it('begin anew where the carriage turned, and take a standing carriage as one place', () => {
    const lines = passages([point(0, 1), point(10, 2), point(10, 4), point(20, 3), point(12, 5), point(22, 6)], 1);
    expect(lines.map((line) => line.map(({ at, mean }) => [at, mean]))).toEqual([[[0, 1], [10, 3], [20, 3]], [[12, 5], [20, 3]], [[12, 5], [22, 6]]]);
    expect(lines[0]?.[1]).toMatchObject({ low: 2, high: 4 });
  });

  it('stay few while a carriage backs up row by row, and ignore jitter', () => {
    const back = Array.from({ length: 200 }, (_, at) => point(100 - at / 2, 0));
    expect(passages([point(0, 1), point(100, 1), ...back, point(300, 1)], 1)).toHaveLength(3);
    expect(passages([point(0, 1), point(10, 1), point(9.5, 1), point(9.2, 1), point(11, 1)], 1)).toHaveLength(1);
  });

  it('are reversed if the run goes towards the datum', () => {
    expect(passages([point(30, 1), point(20, 2), point(10, 3)], 1).map((line) => line.map(({ at }) => at))).toEqual([[10, 20, 30]]);
  });

  it('rise strictly, and show the least and the greatest value, whatever the carriage does', () => {
    const points = fc.array(fc.record({ at: fc.integer({ min: -500, max: 500 }), mean: fc.option(fc.integer({ min: 0, max: 900 })) }), { minLength: 1, maxLength: 80 });
    fc.assert(
      fc.property(points, fc.constantFrom(0, 1, 5), (given, tolerance) => {
        const lines = passages(given.map(({ at, mean }) => point(at, mean)), tolerance);
        for (const line of lines) for (let at = 1; at < line.length; at += 1) expect(line[at]?.at).toBeGreaterThan(line[at - 1]?.at ?? Infinity);
        const shown = lines.flat().flatMap(({ low, high }) => (low === null || high === null ? [] : [low, high]));
        const values = given.flatMap(({ mean }) => (mean === null ? [] : [mean]));
        expect(shown.length > 0).toBe(values.length > 0);
        if (values.length === 0) return;
        expect(Math.min(...shown)).toBe(Math.min(...values));
        expect(Math.max(...shown)).toBe(Math.max(...values));
      }),
    );
  });

  it('give the carriage’s speed once, from whichever arc was seen', () => {
    const trace: Trace = {
      axis: 'time', unit: 's', rows: 3, zones: [],
      arcs: [{ ...arcOf(1, [0, 1], [600, null]), travelSpeed: [550, null] }, { ...arcOf(2, [0, 1], [500, 500]), travelSpeed: [550, 540] }],
    };
    expect(traceLines(trace, 'travelSpeed')).toEqual([{ arc: 0, kind: 'raw', points: [point(0, 550), point(1, 540)] }]);
  });
});

describe('all arcs together', () => {
  const column = (arc: number, mean: (number | null | undefined)[]): Column => ({ arc, kind: 'raw', mean, low: mean, high: mean });

  it('are the sum of the arcs that burn, continued between their points, and unknown where one has a hole', () => {
    const lead = column(1, [null, 2, 2, undefined, 2, 2, 2]);
    const trail = column(2, [null, null, 1, 1, null, 1, null]);
    expect(totalLine([lead, trail], 7).mean).toEqual([null, 2, 3, 3, null, 3, 2]);
  });

  it('of a second passage are those of the later one', () => {
    expect(totalLine([column(1, [1, 1, 1, undefined]), column(1, [undefined, 5, 5, 5])], 4).mean).toEqual([1, 5, 5, 5]);
  });
});

describe('the range of a drawing', () => {
  const column = (values: number[], kind: Column['kind'] = 'raw'): Column => ({ arc: 1, kind, mean: values, low: values, high: values });

  it('shows every value, and does not blow up a steady one', () => {
    expect(valueRange({ columns: [column([590, 610])], robust: false }).range[0]).toBeLessThan(590);
    expect(valueRange({ columns: [column([590, 610])], robust: false }).range[1]).toBeGreaterThan(610);
    const [low, high] = valueRange({ columns: [column([600, 600])], robust: false }).range;
    expect(high - low).toBeGreaterThan(30);
    expect(valueRange({ columns: [column([0, 600])], robust: false }).range[0]).toBe(0);
    expect(valueRange({ columns: [], robust: false })).toEqual({ range: [0, 1], above: null, below: null });
  });

  it('says so where a few values lie far above the drawing', () => {
    const columns = [column([...new Array<number>(200).fill(2), 80])];
    expect(valueRange({ columns, robust: true })).toMatchObject({ above: 80 });
    expect(valueRange({ columns, robust: true }).range[1]).toBeLessThan(5);
    expect(valueRange({ columns, robust: false }).above).toBeNull();
  });

  it('is that of what is judged, with the limits of the windows; what it leaves out is told', () => {
    const columns = [column([0, 600, 610, 0])];
    const judged = (_: number, row: number): boolean => row === 1 || row === 2;
    const { range, below, above } = valueRange({ columns, judged, limits: [580, 680], robust: false });
    expect(range[0]).toBeGreaterThan(500);
    expect(range[0]).toBeLessThan(580);
    expect(range[1]).toBeGreaterThan(680);
    expect({ below, above }).toEqual({ below: 0, above: null });
  });

  it('shows all that is judged, whatever the rows behind it do', () => {
    const rows = column([2, 2.1, 4.1, 2]);
    const judged = column([2, 2.5, 3.3, 2.2], 'judged');
    const own = valueRange({ columns: [rows, judged], judged: (_, row) => row < 2, limits: [1.7, 2.8], robust: true });
    expect(own.range[1]).toBeGreaterThan(3.3);
    expect(own.range[0]).toBeLessThan(1.7);
    expect(own.above).toBe(4.1);
  });

  it('along the seam is not widened by the few rows of a stop: limits keep most of the drawing', () => {
    const rows = column([...new Array<number>(200).fill(700), 5, 80, 300]);
    const [low, high] = valueRange({ columns: [rows], limits: [648, 792], robust: false, trimmed: true }).range;
    expect((792 - 648) / (high - low)).toBeGreaterThan(0.8);
    expect(valueRange({ columns: [rows], limits: [648, 792], robust: false, trimmed: true }).below).toBe(5);
  });

  it('takes a row as judged only with both of its neighbours, and an arc below 20 A as dark', () => {
    expect(judgedRows([0, 1, 2, 3, 4, 5], [[1, 4]])).toEqual([false, false, true, true, false, false]);
    expect(darkRows([column([600, 19.9, 20, -600])]).get(1)).toEqual(new Set([1]));
  });
});

describe('along the seam', () => {
  const stop = arcOf(1, [0, 10, 20, 20, 20, 12, 15, 30], [700, 710, 690, 0, 3, 0, 650, 700]);

  it('the pen is lifted where the arc is out, so that a stop is no fall to 0 A', () => {
    const lines = traceLines({ axis: 'travelled', unit: 'mm', rows: 8, zones: [], arcs: [stop] }, 'current');
    const drawn = lines.flatMap(({ points }) => points.flatMap(({ mean }) => (mean === null ? [] : [mean])));
    expect(Math.min(...drawn)).toBe(650);
    expect(traceLines({ axis: 'time', unit: 's', rows: 8, zones: [], arcs: [{ ...stop, at: [0, 1, 2, 3, 4, 5, 6, 7] }] }, 'current')[0]?.points.map(({ mean }) => mean)).toEqual([700, 710, 690, 0, 3, 0, 650, 700]);
  });

  it('the speed is one line, the carriage\u2019s', () => {
    const speeds = (arc: number): Trace['arcs'][number] => ({ ...arcOf(arc, [0, 10], [600, 600]), travelSpeed: [500, 510] });
    expect(traceLines({ axis: 'seamPosition', unit: 'mm', rows: 4, zones: [], arcs: [speeds(1), speeds(2)] }, 'travelSpeed').map(({ arc }) => arc)).toEqual([0]);
  });
});

describe('values that limits are held against', () => {
  const judged = [
    { quantity: 'heatInput', arc: null, at: [0, 1, 2, 3], value: [2.2, null, 3.3, 2.4], min: [2.1, null, 3.2, 2.3], max: [2.3, null, 3.31, 2.5] },
    { quantity: 'voltage', arc: 2, at: [0], value: [34], min: [33], max: [35] },
  ];
  const trace = { axis: 'time' as const, unit: 's' as const, rows: 4, zones: [], arcs: [], judged };

  it('are a line of their own, with extremes kept and a hole where nothing is judged', () => {
    const [line] = judgedLines(trace, 'heatInput');
    expect(line).toMatchObject({ arc: 0, kind: 'judged' });
    expect(line?.points.map(({ mean, low, high }) => [mean, low, high])).toEqual([[2.2, 2.1, 2.3], [null, null, null], [3.3, 3.2, 3.31], [2.4, 2.3, 2.5]]);
    expect(judgedLines(trace, 'voltage').map(({ arc }) => arc)).toEqual([2]);
    expect(judgedLines(trace, 'current')).toEqual([]);
  });

  it('are read first, and the rows behind them are not named twice', () => {
    const column = (arc: number, kind: Column['kind'], mean: number[]): Column => ({ arc, kind, mean, low: mean, high: mean });
    const readings = readingsAt([column(0, 'other', [1]), column(1, 'raw', [1.5]), column(0, 'raw', [4.1]), column(0, 'judged', [3.3])], 0);
    expect(readings.map(({ arc, kind, value }) => [arc, kind, value])).toEqual([[0, 'judged', 3.3], [1, 'raw', 1.5], [0, 'other', 1]]);
  });
});

describe('what is written beside a drawing', () => {
  it('never lies on another label, and stays within the drawing where there is room', () => {
    const places = fc.array(fc.double({ min: -20, max: 120, noNaN: true }), { maxLength: 8 });
    fc.assert(
      fc.property(places, (wanted) => {
        const own = spreadLabels(wanted, 10, [5, 95]).toSorted((a, b) => a - b);
        for (let at = 1; at < own.length; at += 1) expect((own[at] ?? 0) - (own[at - 1] ?? 0)).toBeGreaterThanOrEqual(10 - 1e-9);
        if (own.length > 0) expect([(own[0] ?? 0) >= 5 - 1e-9, (own.at(-1) ?? 0) <= 95 + 1e-9]).toEqual([true, true]);
      }),
    );
    expect(spreadLabels([40, 80], 10, [5, 95])).toEqual([40, 80]);
  });

  it('and marks that overlap lie in lanes of their own', () => {
    expect(lanesOf([{ left: 0, right: 50 }, { left: 10, right: 30 }, { left: 40, right: 60 }, { left: 55, right: 70 }]).map(({ lane }) => lane)).toEqual([0, 1, 1, 0]);
    const block = fc.tuple(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 1, max: 200 })).map(([left, wide]) => ({ left, right: left + wide }));
    fc.assert(
      fc.property(fc.array(block, { maxLength: 25 }), (given) => {
        const blocks = given.toSorted((a, b) => a.left - b.left);
        const lanes = lanesOf(blocks);
        for (const [at, own] of blocks.entries()) {
          for (const [before, other] of blocks.slice(0, at).entries()) {
            const overlap = own.left < other.right && other.left < own.right;
            if (overlap && lanes[at]?.lane === lanes[before]?.lane) expect(lanes[at]?.crowded === true || lanes[before]?.crowded === true).toBe(true);
          }
        }
      }),
    );
  });

  it('and a part of the axis never leaves the run', () => {
    expect(clamped([-2.5, 20], [0, 60])).toEqual([0, 22.5]);
    expect(clamped([50, 70], [0, 60])).toEqual([40, 60]);
    expect(clamped([-5, 70], [0, 60])).toBeNull();
  });
});

describe('labels of an axis', () => {
  const read = (text: string): number => Number(text.replaceAll('\u202f', '').replace('\u2212', '-'));

  it('say what their ticks are: 32.5 between 30 and 35 is no 33', () => {
    expect(tickTexts('travelled', [30, 32.5, 35])).toEqual(['30.0', '32.5', '35.0']);
    expect(tickTexts('travelled', [500, 600, 700])).toEqual(['500', '600', '700']);
    expect(tickTexts('time', [0, 0.5, 1])).toEqual(['0:00.0', '0:00.5', '0:01.0']);
  });

  it('read back as the ticks, whatever their step and wherever they begin', () => {
    // Steps as the drawing library takes them: 1, 2, 2.5 and 5 times a power of ten.
    fc.assert(
      fc.property(fc.constantFrom(1, 2, 2.5, 5), fc.integer({ min: -3, max: 4 }), fc.integer({ min: -50, max: 50 }), fc.integer({ min: 1, max: 9 }), (part, power, first, count) => {
        const step = part * 10 ** power;
        const ticks = Array.from({ length: count }, (_, at) => (first + at) * step);
        tickTexts('seamPosition', ticks).forEach((text, at) => { expect(Math.abs(read(text) - (ticks[at] ?? NaN))).toBeLessThan(step * 1e-3); });
      }),
    );
  });
});

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import { runSchema, type Run } from '../../shared/api-types/run.js';
import type { ZoneStretch } from '../../shared/api-types/trace.js';
import { absentText } from '../../dashboards/run/figures/absent-text.js';
import { missingValues } from '../../dashboards/run/figures/missing-values.js';
import { runFigureGroups } from '../../dashboards/run/figures/run-figure-list.js';
import { explainMarks } from '../../dashboards/run/marks/explain-marks.js';
import { markText } from '../../dashboards/run/marks/mark-text.js';
import { judgedStretches, placedMarks } from '../../dashboards/run/panels/trace-marks.js';
import type { WindowsNow } from '../../dashboards/run/windows/use-windows.js';
import { runMarks, steppedMark } from '../../dashboards/run/marks/run-marks.js';
import { alarmPlaceAddress, onAxis, partAround, stretchOf } from '../../dashboards/run/run-places.js';
import { periodSpan, shiftAt } from '../../dashboards/shared/plant-days.js';
import { fits, isBackwards, readFilter, spanOf } from '../../dashboards/runs/run-filter.js';
import { madeRun } from '../api/made-run.js';
import { notJudgedText, originText, runTitle } from '../../dashboards/run/run-text.js';
import { chooseLanguage, chooseUnits } from '../../dashboards/shared/choices.js';

afterEach(() => {
  chooseLanguage('en');
  chooseUnits('metric');
});

const startedAt = '2026-11-25T06:00:00.000Z';
const at = (seconds: number): string => new Date(Date.parse(startedAt) + seconds * 1000).toISOString();
const run: Pick<Run, 'startedAt' | 'assignment' | 'restarts' | 'dataGaps'> = {
  startedAt,
  assignment: { seam: 'S', run: 1, startOffset: 6060, direction: -1 },
  restarts: [{ arc: 2, stoppedAt: at(40), stoppedTravelled: 400, restartedAt: at(45), restartedTravelled: 390, stoppedDegrees: null, restartedDegrees: null, overlap: 10, positionConfirmed: true }],
  dataGaps: [{ fromTime: at(20), toTime: at(22), fromTravelled: 200, toTravelled: 220, fromDegrees: null, toDegrees: null }],
};

describe('places of a run', () => {
  it('lie on the seam by offset and direction, those of a trailing arc by its distance', () => {
    const stretch = stretchOf(run, [at(10), at(20)], [1284.5, 1310.2]);
    // Worked case 11 of the rules of computation: 4775.5 to 4749.8.
    expect(onAxis('seamPosition', stretch)).toEqual([6060 - 1310.2, 6060 - 1284.5]);
    expect(onAxis('time', stretch)).toEqual([10, 20]);
    const [restart] = runMarks({ run, zones: [], excursions: [], offsets: { 2: 70 } }).filter(({ kind }) => kind === 'restart');
    expect(restart?.stretch.seamPosition).toEqual([6060 - 330, 6060 - 320]);
    expect(onAxis('travelled', stretchOf(run, [at(1), null], [null, null]))).toBeNull();
  });

  it('are shown with 5 s or 40 mm beside them, or a quarter of a long stretch', () => {
    expect(partAround('time', [20, 22])).toEqual([15, 27]);
    expect(partAround('travelled', [100, 1100])).toEqual([-150, 1350]);
  });
});

describe('the run of an alarm', () => {
  it('is opened at the place of the alarm, or whole where that is not known', () => {
    expect(alarmPlaceAddress('r 1', { travelled: 546.5 })).toBe('#/run/r%201?axis=travelled&from=506.5&to=586.5');
    expect(alarmPlaceAddress('r 1', { travelled: null })).toBe('#/run/r%201');
  });
});

describe('colours of lines', () => {
  // Hue of the HSL colour space, degrees; a line whose hue lies near that of attention would read as one.
  const hueOf = (colour: string): number | null => {
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    const [most, least] = [Math.max(red, green, blue), Math.min(red, green, blue)];
    if (most - least < 25) return null;
    const part = most === red ? (green - blue) / (most - least) : most === green ? 2 + (blue - red) / (most - least) : 4 + (red - green) / (most - least);
    return (part * 60 + 360) % 360;
  };

  it('never look like a call for attention, light or dark', () => {
    const theme = readFileSync(new URL('../../dashboards/shared/theme.css', import.meta.url), 'utf8');
    const own = (name: string): readonly string[] => [...theme.matchAll(new RegExp(`--${name}: (#[0-9a-f]{6})`, 'g'))].map(([, colour = '']) => colour);
    const attention = own('attention').map(hueOf);
    expect(attention).toHaveLength(2);
    for (let arc = 1; arc <= 6; arc += 1) {
      const lines = own(`line-${arc}`);
      expect(lines).toHaveLength(2);
      lines.forEach((colour, scheme) => {
        const [hue, wanted] = [hueOf(colour), attention[scheme] ?? 0];
        const apart = hue === null ? 180 : Math.min(Math.abs(hue - wanted), 360 - Math.abs(hue - wanted));
        expect(apart, `--line-${arc} ${colour}`).toBeGreaterThan(60);
      });
    }
  });
});

describe('marks of a run', () => {
  it('come in the order in which they began, each kind numbered for itself', () => {
    const zones = [
      { zone: 'ignition' as const, fromTime: at(0), toTime: at(2), fromTravelled: 0, toTravelled: 20, arcs: [1] },
      { zone: 'weld' as const, fromTime: at(2), toTime: at(38), fromTravelled: 20, toTravelled: 380, arcs: [] },
    ];
    expect(runMarks({ run, zones, excursions: [], offsets: {} }).map(({ code }) => code)).toEqual(['Z1', 'Z2', 'G1', 'R1']);
  });

  it('are stepped through in a circle', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.constantFrom<1 | -1>(1, -1), (count, way) => {
        const seen = new Set<number>();
        let now: number | null = null;
        for (let step = 0; step < count; step += 1) {
          now = steppedMark(count, now, way);
          if (now !== null) seen.add(now);
        }
        expect(seen.size).toBe(count);
        expect(steppedMark(count, now, way)).toBe(way === 1 ? 0 : count - 1);
      }),
    );
    expect(steppedMark(0, null, 1)).toBeNull();
  });
});

describe('zones of a tandem', () => {
  const procedure = { id: 'P', revision: 1, runGroups: [{ runs: [1, 9], arcs: [{ arc: 1 }, { arc: 2, offset: 60 }] }] };
  const tandem = madeRun({ id: 'r', judged: true, arcs: [{ arc: 1 }, { arc: 2 }] as Run['arcs'] });
  const told = (zone: Omit<ZoneStretch, 'fromTime' | 'toTime' | 'fromTravelled' | 'toTravelled'>, own = tandem): string => {
    const stretch = { fromTime: at(20), toTime: at(24), fromTravelled: 200, toTravelled: 240, ...zone };
    const windows = { is: 'known', procedure, group: procedure.runGroups[0] } as unknown as WindowsNow;
    return explainMarks(runMarks({ run: { ...run, restarts: [], dataGaps: [] }, zones: [stretch], excursions: [], offsets: {} }), own, windows).map(markText).join();
  };

  it('say which arc did not pass where heat input is not judged', () => {
    expect(told({ zone: 'restart', arcs: [2], unpassed: true })).toBe('Weld without arc 2 – heat input not assessed, arc 2 did not pass here before it was re-struck');
    expect(told({ zone: 'ignition', arcs: [2, 3], unpassed: true })).toBe('Weld without arc 2 and arc 3 – heat input not assessed, arc 2 and arc 3 were not started until after this stretch');
    expect(told({ zone: 'crater', arcs: [2], unpassed: true })).toBe('Weld without arc 2 – heat input not assessed, arc 2 had gone out before this stretch');
    chooseLanguage('zh');
    expect(told({ zone: 'restart', arcs: [2], unpassed: true })).toBe('焊接段（缺电弧 2）——热输入不评定，电弧 2 再引弧前未经过此处');
    expect(told({ zone: 'crater', arcs: [2, 3], unpassed: true })).toBe('焊接段（缺电弧 2、电弧 3）——热输入不评定，电弧 2、电弧 3 在此段之前已熄弧');
  });

  it('say which arc makes them so, by their places on the carriage on the tabs', () => {
    expect(told({ zone: 'ignition', arcs: [2] })).toBe('Arc start – not assessed, the first 2.0\u00a0s and 15\u00a0mm after the start of arc 2');
    expect(told({ zone: 'restart', arcs: [1, 2] })).toBe('After restart – not assessed, the first 2.0\u00a0s and 15\u00a0mm after arc 1 and arc 2 were re-struck');
    expect(told({ zone: 'crater', arcs: [1] })).toBe('Crater – not assessed, the last 2.0\u00a0s before arc 1 went out');
    expect(told({ zone: 'runOn', arcs: [1, 2] })).toBe('Run-on tab – not assessed, not part of the seam, up to where arc 2 leaves it');
    expect(told({ zone: 'runOff', arcs: [1, 2] })).toBe('Run-off tab – not assessed, not part of the seam, from where arc 1 reaches it');
    chooseLanguage('zh');
    expect(told({ zone: 'runOn', arcs: [1, 2] })).toContain('至电弧 2 离开为止');
    expect(told({ zone: 'ignition', arcs: [2] })).toContain('电弧 2 引弧后');
  });

  it('name no arc where there is one alone, or where none is named', () => {
    const single = madeRun({ id: 'r', judged: true, arcs: [{ arc: 1 }] as Run['arcs'] });
    expect(told({ zone: 'crater', arcs: [1] }, single)).toBe('Crater – not assessed, the last 2.0\u00a0s before arc end');
    expect(told({ zone: 'runOn', arcs: [] })).toBe('Run-on tab – not assessed, not part of the seam');
    expect(told({ zone: 'weld', arcs: [] })).toBe('Weld – assessed');
  });

  it('leave the limits of all but heat input drawn where only that is not judged', () => {
    const zones = [
      { zone: 'weld' as const, fromTime: at(0), toTime: at(10), fromTravelled: 0, toTravelled: 100, arcs: [] },
      { zone: 'restart' as const, fromTime: at(10), toTime: at(20), fromTravelled: 100, toTravelled: 200, arcs: [2], unpassed: true as const },
      { zone: 'crater' as const, fromTime: at(20), toTime: at(22), fromTravelled: 200, toTravelled: 220, arcs: [1, 2] },
    ];
    const placed = placedMarks(runMarks({ run, zones, excursions: [], offsets: {} }), 'time');
    expect(judgedStretches(placed, 'voltage')).toEqual([[0, 10], [10, 20]]);
    expect(judgedStretches(placed, 'heatInput')).toEqual([[0, 10]]);
  });
});

describe('search and filters', () => {
  const assignment = { seam: 'DK-0417/L2', run: 2, procedure: 'SA-12', operator: 'op-7', fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1' }] };
  const listed = madeRun({ id: 'r', seam: 'DK-0417/L2', run: 2, assignment, carriage: 'c1', site: 'hall-a', startedAt: '2026-11-25T12:00:00.000Z', excursions: 1, judged: true });
  const filter = (text: string) => readFilter(new URLSearchParams(text));
  const now = Date.parse('2026-11-25T15:30:00Z');
  const holds = (text: string, run = listed): boolean => fits(filter(text), run, now);

  it('judge a run that comes by the feed as the service judges those it lists', () => {
    for (const text of ['search=dk l2', 'search=C1 0417', 'procedure=SA-12&operator=op-7', 'lot=F-1', 'lot=W-1', 'excursions=true', 'complete=true&judged=true', 'run=2']) expect(holds(text), text).toBe(true);
    for (const text of ['search=dk c2', 'seam=DK', 'assigned=false', 'procedure=SA', 'lot=F', 'excursions=false', 'complete=false', 'judged=false', 'run=1']) expect(holds(text), text).toBe(false);
  });

  it('take days of the plant, and say where they are turned round', () => {
    const span = spanOf(filter('from=2026-11-25&to=2026-11-25'), now);
    expect([span.from, span.to]).toEqual([new Date(2026, 10, 25).toISOString(), new Date(2026, 10, 26).toISOString()]);
    expect(filter('from=2026-02-30&to=yesterday&state=burning&assigned=maybe&order=age&period=ever&run=0')).toMatchObject({ from: '', to: '', state: '', assigned: '', order: '', period: '', run: '' });
    expect([isBackwards(filter('from=2026-11-26&to=2026-11-25')), isBackwards(filter('from=2026-11-25&to=2026-11-25'))]).toEqual([true, false]);
  });

  it('know days, shifts and weeks where the plant is, over a change of its clocks too', () => {
    const text = (span: readonly [number, number]): string[] => span.map((at) => new Date(at).toISOString().slice(0, 16));
    const berlin = 'Europe/Berlin';
    const shifts = [{ name: 'early', begins: '06:00' }, { name: 'late', begins: '14:00' }, { name: 'night', begins: '22:00' }];
    // Central European time is UTC+1 in winter and UTC+2 in summer; clocks go back on 25 October 2026 at 3:00 (Directive 2000/84/EC).
    expect(text(periodSpan('today', Date.parse('2026-11-25T23:30:00Z'), berlin, shifts))).toEqual(['2026-11-25T23:00', '2026-11-26T23:00']);
    expect(text(periodSpan('yesterday', Date.parse('2026-10-26T10:00:00Z'), berlin, shifts))).toEqual(['2026-10-24T22:00', '2026-10-25T23:00']);
    // Sunday 25 October belongs to the week of Monday 19 October.
    expect(text(periodSpan('week', Date.parse('2026-10-25T12:00:00Z'), berlin, shifts))).toEqual(['2026-10-18T22:00', '2026-10-25T23:00']);
    expect(text(periodSpan('lastWeek', Date.parse('2026-10-26T12:00:00Z'), berlin, shifts))).toEqual(['2026-10-18T22:00', '2026-10-25T23:00']);
    // 1:00 at night is in the shift that began at 22:00 the day before.
    expect(text(periodSpan('shift', Date.parse('2026-11-26T00:00:00Z'), berlin, shifts))).toEqual(['2026-11-25T21:00', '2026-11-26T05:00']);
    expect(text(periodSpan('lastShift', Date.parse('2026-11-26T00:00:00Z'), berlin, shifts))).toEqual(['2026-11-25T13:00', '2026-11-25T21:00']);
    expect(text(periodSpan('shift', Date.parse('2026-11-26T13:00:00Z'), berlin, shifts))).toEqual(['2026-11-26T13:00', '2026-11-26T21:00']);
    // The night in which clocks go back has an hour more.
    expect(text(periodSpan('shift', Date.parse('2026-10-25T02:00:00Z'), berlin, shifts))).toEqual(['2026-10-24T20:00', '2026-10-25T05:00']);
    expect(['2026-11-26T00:00:00Z', '2026-11-26T05:00:00Z', '2026-11-26T20:59:59Z'].map((at) => shiftAt(Date.parse(at), berlin, shifts)?.name)).toEqual(['night', 'early', 'late']);
    // A plant without shifts counts by the day, one with a single shift from where that begins.
    expect(text(periodSpan('shift', Date.parse('2026-11-25T23:30:00Z'), berlin, []))).toEqual(['2026-11-25T23:00', '2026-11-26T23:00']);
    expect(text(periodSpan('lastShift', Date.parse('2026-11-26T04:00:00Z'), berlin, [{ name: null, begins: '05:30' }]))).toEqual(['2026-11-24T04:30', '2026-11-25T04:30']);
    expect(shiftAt(Date.parse('2026-11-26T00:00:00Z'), berlin, [])).toBeNull();
  });
});

describe('why a run is not judged, and where it came from', () => {
  it('is said in the language of the page', () => {
    const own = madeRun({ id: 'r', notJudged: 'procedureUnknown', assignment: { seam: 'S', run: 1, procedure: 'NOPE' } });
    expect(notJudgedText(own)).toBe('procedure NOPE not found');
    expect(notJudgedText(madeRun({ id: 'r', judged: true, notJudged: null }))).toBeNull();
    // Limits that applied to no length of it say nothing of it: it is not within them.
    expect(notJudgedText(madeRun({ id: 'r', judged: true, notJudged: null, lengths: { inside: 0, outside: 0, notProven: 0, excluded: 31 } }))).toBe('no length assessed');
    expect(notJudgedText(madeRun({ id: 'r', judged: true, notJudged: null, lengths: { inside: 0, outside: 2, notProven: 0, excluded: 31 } }))).toBeNull();
    expect(originText(madeRun({ id: 'r', carriage: 'c4' }))).toBe('recorded live from c4');
    expect(originText(madeRun({ id: 'r', origin: { kind: 'log', file: 'shell 12.csv', at: null, by: 'qa-2' } }))).toBe('imported from shell 12.csv by qa-2');
    expect(originText(madeRun({ id: 'r', origin: { kind: 'log', file: null, at: null, by: null } }))).toBe('imported from a log');
    chooseLanguage('zh');
    expect(notJudgedText(own)).toBe('找不到工艺规程 NOPE');
  });
});

describe('words of a run', () => {
  it('say pass with US units, and follow the language', () => {
    const own = { seam: 'S', run: 2, attempt: 2 };
    expect(runTitle(own)).toBe('S, run 2, attempt 2');
    chooseUnits('us');
    expect(runTitle(own)).toBe('S, pass 2, attempt 2');
    expect(absentText({ code: 'shorter', length: 20 })).toBe('the pass is shorter than 0.79\u00a0in');
    chooseLanguage('zh');
    expect(runTitle(own)).toBe('S，焊道 2，第 2 次');
    // 530 readings in 53.9 s: sent every 100 ms, with one that was late.
    expect(absentText({ code: 'tooSlow', source: 'readings', interval: 102 })).toBe('100 ms 间隔的读数无法检出');
    expect(absentText({ code: 'tooSlow', source: 'readings', interval: 100 })).toBe('100 ms 间隔的读数无法检出');
    expect(absentText({ code: 'notSent', quantity: 'wireFeedSpeed' })).toBe('未发送送丝速度');
    // Of a run that was stored before there were codes.
    expect(absentText('no wireFeedSpeed was sent')).toBe('no wireFeedSpeed was sent');
  });

  it('name the degrees that a straight seam lacks once, in the language of the page', () => {
    const reason = 'the assignment names no work that turns under the carriage: motion "work" with a diameter';
    const straight = { ...madeRun({ id: 'r-1' }), absent: { circumference: reason, degrees: reason } };
    expect(missingValues(straight).map(([name]) => name).filter((name) => /circumference|degrees/i.test(name))).toEqual(['Round the circumference']);
    chooseLanguage('zh');
    expect(missingValues(straight).filter(([name]) => /[a-z]{4}/i.test(name))).toEqual([]);
  });

  it('name every value that can be missing in words, in the language of the page', () => {
    const run = madeRun({ id: 'r-1' });
    const lacking = Object.entries(runSchema.shape).filter(([, field]) => field.safeParse(null).success).map(([key]) => key);
    expect(lacking).toContain('endedAt');
    const named = (): string[] => missingValues({ ...run, absent: Object.fromEntries(lacking.map((key) => [key, 'not recorded'])) }).map(([name]) => name);
    expect(named().filter((name) => !/^[A-Z0-9]/.test(name))).toEqual([]);
    chooseLanguage('zh');
    expect(named().filter((name) => /[a-z]{4}/i.test(name))).toEqual([]);
  });

  it('do not say of the mean speed twice that it is one of travel', () => {
    const speeds = runFigureGroups(madeRun({ id: 'r-1' })).flatMap(({ figures }) => figures).filter(({ key }) => key.startsWith('travelSpeed.'));
    expect(speeds.map(({ label, of }) => [label, of])).toEqual([['Travel speed, mean', undefined], ['min', 'Travel speed'], ['max', 'Travel speed'], ['standard deviation', 'Travel speed']]);
  });
});

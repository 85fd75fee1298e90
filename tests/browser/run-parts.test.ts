import fc from 'fast-check';
import { afterEach, describe, expect, it } from 'vitest';
import type { Run } from '../../shared/api-types/run.js';
import { absentText } from '../../dashboards/run/figures/absent-text.js';
import { runMarks, steppedMark } from '../../dashboards/run/marks/run-marks.js';
import { onAxis, partAround, stretchOf } from '../../dashboards/run/run-places.js';
import { filterQuery, fits, readFilter } from '../../dashboards/runs/run-filter.js';
import { runTitle } from '../../dashboards/run/run-title.js';
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
  restarts: [{ arc: 2, stoppedAt: at(40), stoppedTravelled: 400, restartedAt: at(45), restartedTravelled: 390, overlap: 10, positionConfirmed: true }],
  dataGaps: [{ fromTime: at(20), toTime: at(22), fromTravelled: 200, toTravelled: 220 }],
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

describe('marks of a run', () => {
  it('come in the order in which they began, each kind numbered for itself', () => {
    const zones = [
      { zone: 'ignition' as const, fromTime: at(0), toTime: at(2), fromTravelled: 0, toTravelled: 20 },
      { zone: 'weld' as const, fromTime: at(2), toTime: at(38), fromTravelled: 20, toTravelled: 380 },
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

describe('search and filters', () => {
  const listed = { state: 'finished' as const, seam: 'DK-0417/L2', carriage: 'c1', site: 'hall-a', assigned: true, startedAt: '2026-11-25T12:00:00.000Z' };
  const filter = (text: string) => readFilter(new URLSearchParams(text));

  it('judge a run that comes by the feed as the service judges those it lists', () => {
    expect(fits(filter('search=dk l2'), listed)).toBe(true);
    expect(fits(filter('search=C1 0417'), listed)).toBe(true);
    expect(fits(filter('search=dk c2'), listed)).toBe(false);
    expect(fits(filter('seam=DK'), listed)).toBe(false);
    expect(fits(filter('from=2026-11-26'), { ...listed, startedAt: new Date(2026, 10, 25, 23, 59).toISOString() })).toBe(false);
    expect(fits(filter('to=2026-11-25'), { ...listed, startedAt: new Date(2026, 10, 25, 23, 59).toISOString() })).toBe(true);
    expect(fits(filter('assigned=false'), listed)).toBe(false);
  });

  it('ask for whole days of the one who looks, and take no nonsense', () => {
    const { from, to } = filterQuery(filter('from=2026-11-25&to=2026-11-25'));
    expect([from, to]).toEqual([new Date(2026, 10, 25).toISOString(), new Date(2026, 10, 26).toISOString()]);
    expect(filter('from=2026-02-30&to=yesterday&state=burning&assigned=maybe')).toMatchObject({ from: '', to: '', state: '', assigned: '' });
  });
});

describe('words of a run', () => {
  it('say pass with US units, and follow the language', () => {
    const own = { seam: 'S', run: 2, attempt: 2 };
    expect(runTitle(own)).toBe('S, run 2, attempt 2');
    chooseUnits('us');
    expect(runTitle(own)).toBe('S, pass 2, attempt 2');
    expect(absentText('the run is shorter than 20 mm')).toBe('the pass is shorter than 0.79\u00a0in');
    chooseLanguage('zh');
    expect(runTitle(own)).toBe('S，第 2 道，第 2 次');
    expect(absentText('readings at 100 ms cannot show them')).toBe('100 ms 间隔的读数无法显示');
    expect(absentText('a reason of a newer service')).toBe('a reason of a newer service');
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { pageOfFloor } from '../../dashboards/floor/floor-pages.js';
import { layTiles } from '../../dashboards/floor/tile-layout.js';
import { inOrderOfTrouble, noTrouble, troubleRank } from '../../dashboards/floor/trouble.js';
import { carriageVerdict } from '../../dashboards/shared/carriage-verdict.js';
import { howFarOut } from '../../dashboards/shared/how-far-out.js';
import { barScale, placeIn, shareOf } from '../../dashboards/shared/window-place.js';
import { layDigits } from '../../dashboards/station/lay-digits.js';
import { tonePriority, tones } from '../../dashboards/station/use-tones.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';

const plain = (text: string | null): string | null => text?.replaceAll('\u00a0', ' ') ?? null;

describe('tiles of the floor', () => {
  const counts = fc.integer({ min: 1, max: 400 });
  const sides = fc.record({ width: fc.integer({ min: 700, max: 4000 }), height: fc.integer({ min: 360, max: 2200 }) });

  it('fit on the surface, large ones as two by two, whatever their number', () => {
    fc.assert(
      fc.property(counts, fc.integer({ min: 0, max: 400 }), sides, (count, given, { width, height }) => {
        const troubled = Math.min(given, count);
        const { columns, rows, large, perPage, unit } = layTiles(count, troubled, width, height);
        const onPage = Math.min(count, perPage);
        expect(onPage + 3 * large).toBeLessThanOrEqual(columns * rows);
        expect(2 * Math.ceil(large / Math.max(1, Math.floor(columns / 2)))).toBeLessThanOrEqual(Math.max(rows, 2 * Number(large > 0)));
        expect(large === count || large <= troubled).toBe(true);
        // On one page everything has its least size; a page that is split is as full as that allows.
        expect(unit).toBeGreaterThan(0);
        if (perPage < count) expect(large).toBe(0);
      }),
    );
  });

  it('hold 50 carriages on one page of 1080p and of 4K, and more only on several', () => {
    for (const [width, height] of [[1896, 910], [3792, 1820]] as const) {
      expect(layTiles(50, 5, width, height).perPage).toBe(50);
      expect(layTiles(5, 0, width, height).large).toBe(5);
      expect(layTiles(200, 0, width, height).perPage).toBeLessThan(200);
    }
  });

  it('are seen each on some page, those in trouble on every one', () => {
    fc.assert(
      fc.property(counts, fc.integer({ min: 0, max: 400 }), fc.integer({ min: 2, max: 90 }), (count, given, perPage) => {
        const keys = Array.from({ length: count }, (_, at) => `c${at}`);
        const troubled = Math.min(given, count);
        const { pages, pinned } = pageOfFloor(keys, troubled, perPage, 0);
        const seen = Array.from({ length: pages }, (_, page) => pageOfFloor(keys, troubled, perPage, page).keys);
        expect(new Set(seen.flat())).toEqual(new Set(keys));
        for (const page of seen) {
          expect(page.length).toBeLessThanOrEqual(perPage);
          if (pinned) expect(page.slice(0, troubled)).toEqual(keys.slice(0, troubled));
        }
        expect(pageOfFloor(keys, troubled, perPage, -1)).toEqual(pageOfFloor(keys, troubled, perPage, pages - 1));
      }),
    );
  });
});

describe('the order of the floor', () => {
  const now = Date.now();
  const rank = (alarms: readonly Alarm[], change = {}): number => {
    const carriage = madeCarriage('c1', { alarms: [...alarms], ...change });
    return troubleRank(carriage, carriageVerdict(carriage, now, true).verdict, false);
  };

  it('puts what nobody has acknowledged before what somebody has, then what is over, then what is shelved, then the rest', () => {
    const alarm = (change: Partial<Alarm>): Alarm => madeAlarm('c1', change);
    const returnedAt = new Date(now).toISOString();
    const ranks = [
      rank([alarm({ priority: 'high' })]),
      rank([], { lastSeen: new Date(now - 9_000).toISOString() }),
      rank([alarm({ priority: 'medium' })]),
      rank([alarm({ priority: 'low' })]),
      rank([alarm({ priority: 'high', state: 'acknowledged' })]),
      rank([alarm({ priority: 'high', state: 'returned', returnedAt })]),
      rank([alarm({ priority: 'high', state: 'shelved' })]),
      rank([]),
    ];
    expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
    expect(new Set(ranks).size).toBe(ranks.length);
    expect(ranks.at(-1)).toBe(noTrouble);
    // The worst one counts.
    expect(rank([alarm({ id: 'a', priority: 'low' }), alarm({ id: 'b', priority: 'high' })])).toBe(ranks[0]);
  });

  it('is stable', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 60 }), (ranks) => {
        const keys = ranks.map((_, at) => String(at));
        const sorted = inOrderOfTrouble(keys, (key) => ranks[Number(key)] ?? 0);
        for (let at = 1; at < sorted.length; at += 1) {
          const [before, after] = [Number(sorted[at - 1]), Number(sorted[at])];
          expect((ranks[before] ?? 0) < (ranks[after] ?? 0) || (ranks[before] === ranks[after] && before < after)).toBe(true);
        }
      }),
    );
  });

  it('takes a shelved excursion for what it is', () => {
    const carriage = madeCarriage('c1', { alarms: [madeAlarm('c1', { state: 'shelved' })] });
    expect(carriageVerdict(carriage, now, true).verdict).toBe('outside');
    const over = madeCarriage('c1', { alarms: [madeAlarm('c1', { state: 'shelved', returnedAt: new Date(now).toISOString() })] });
    expect(carriageVerdict(over, now, true).verdict).toBe('inside');
  });
});

describe('how far out a value is', () => {
  it('is the newest one beyond its limit, or the worst where that is back inside', () => {
    // 35.2 − 34 = 1.2; 34.6 − 34 = 0.6.
    expect(plain(howFarOut(madeCarriage('c1', atVoltage(34.6)), madeAlarm('c1')))).toBe('0.6 V above');
    expect(plain(howFarOut(madeCarriage('c1', atVoltage(33.8)), madeAlarm('c1')))).toBe('at worst 1.2 V above');
    expect(plain(howFarOut(madeCarriage('c1', { travelSpeed: 430 }), madeAlarm('c1', { quantity: 'travelSpeed', arc: null, limit: 450, worst: 420 })))).toBe('20 mm/min below');
    expect(howFarOut(madeCarriage('c1'), madeAlarm('c1', { quantity: 'polarity', limit: null, worst: null }))).toBeNull();
  });
});

describe('the place of a value in its window', () => {
  it('is told with its distance where it is outside', () => {
    expect(placeIn({ min: 30, max: 34 }, 35.5)).toEqual({ side: 'above', by: 1.5 });
    expect(placeIn({ min: 30, max: 34 }, 29)).toEqual({ side: 'below', by: 1 });
    expect(placeIn({ min: 30, max: 34 }, 34).side).toBe('nearHigh');
    expect(placeIn({ min: 30, max: 34 }, 30.3).side).toBe('nearLow');
    expect(placeIn({ min: 30, max: 34 }, 32).side).toBe('inside');
    expect(placeIn({ max: 0.1 }, 0.02).side).toBe('inside');
    expect(placeIn({ min: 15 }, 12)).toEqual({ side: 'below', by: 3 });
  });

  it('lies on the bar on the side that the words say', () => {
    const ends = fc.tuple(fc.integer({ min: 1, max: 5_000_000 }).map((own) => own / 1000), fc.integer({ min: 1, max: 5_000_000 }).map((own) => own / 1000), fc.constantFrom('both', 'min', 'max'));
    fc.assert(
      fc.property(ends, fc.double({ min: -100, max: 11_000, noNaN: true }), ([low, width, kind], value) => {
        const window = { ...(kind === 'max' ? {} : { min: low }), ...(kind === 'min' ? {} : { max: low + width }) };
        const scale = barScale(window);
        const at = shareOf(scale, value);
        const { side } = placeIn(window, value);
        expect(at).toBeGreaterThanOrEqual(0);
        expect(at).toBeLessThanOrEqual(1);
        if (side === 'above' && window.max !== undefined) expect(at).toBeGreaterThanOrEqual(shareOf(scale, window.max));
        if (side === 'below' && window.min !== undefined) expect(at).toBeLessThanOrEqual(shareOf(scale, window.min));
        // Both ends of a window stand on its bar with room beyond them.
        for (const end of [window.min, window.max]) if (end !== undefined) expect(Math.abs(shareOf(scale, end) - 0.5)).toBeLessThan(0.5);
      }),
    );
  });
});

describe('digits of the station', () => {
  it('measure 25 mm on 24 inches for one and two arcs, in narrow and wide faces', () => {
    for (const shape of [{ width: 0.556, height: 0.688 }, { width: 0.696, height: 0.729 }]) {
      for (const count of [4, 6]) {
        const { digits } = layDigits(count, shape, 1890, 460, 1920);
        expect((digits * shape.height * 531) / 1920).toBeGreaterThanOrEqual(24.99);
      }
    }
  });

  it('shrink where there are more arcs, so that all of them are seen', () => {
    const shape = { width: 0.556, height: 0.688 };
    for (const count of [8, 10, 12, 14]) {
      const { columns, digits } = layDigits(count, shape, 1890, 460, 1920);
      expect(Math.ceil(count / columns) * digits * 1.72).toBeLessThanOrEqual(461);
    }
  });
});

describe('the tone', () => {
  it('is that of the highest priority which nobody has acknowledged', () => {
    const of = (state: Alarm['state'], priority: Alarm['priority']) => ({ state, priority });
    expect(tonePriority([])).toBeNull();
    expect(tonePriority([of('acknowledged', 'high'), of('shelved', 'high'), of('returned', 'high')])).toBeNull();
    expect(tonePriority([of('unacknowledged', 'low'), of('unacknowledged', 'medium'), of('acknowledged', 'high')])).toBe('medium');
  });

  it('differs by its number of pulses too, and lies where ISO 7731 has signals', () => {
    const all = Object.values(tones);
    expect(new Set(all.map(({ pulses }) => pulses)).size).toBe(3);
    for (const { pitch } of all) {
      expect(pitch).toBeGreaterThanOrEqual(500);
      expect(pitch).toBeLessThanOrEqual(2500);
    }
  });
});

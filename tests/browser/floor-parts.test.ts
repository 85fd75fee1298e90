import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { commonCause } from '../../dashboards/floor/common-cause.js';
import { layFloor } from '../../dashboards/floor/floor-layout.js';
import { pageOfFloor } from '../../dashboards/floor/floor-pages.js';
import { shortForm } from '../../dashboards/floor/short-form.js';
import { inOrderOfTrouble, noTrouble, troubleRank } from '../../dashboards/floor/trouble.js';
import { carriageVerdict, howFarOut } from '../../dashboards/shared/carriage-verdict.js';
import { countedTitle } from '../../dashboards/shared/use-page-title.js';
import { barScale, placeIn, shareOf } from '../../dashboards/shared/window-place.js';
import { layDigits } from '../../dashboards/station/lay-digits.js';
import { tonePriority, tones } from '../../dashboards/station/sound.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';

const plain = (text: string | null): string | null => text?.replaceAll('\u00a0', ' ') ?? null;

describe('tiles of the floor', () => {
  const halls = fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 6 });
  const sides = fc.record({ width: fc.integer({ min: 700, max: 4000 }), height: fc.integer({ min: 360, max: 2200 }) });

  it('fit on the surface, whatever their number and their halls', () => {
    fc.assert(
      fc.property(halls, sides, (counts, { width, height }) => {
        const { columns, tileHeight, unit, perPage } = layFloor(counts, width, height, width);
        const all = counts.reduce((sum, own) => sum + own, 0);
        expect(unit).toBeGreaterThan(0);
        if (perPage < all || perPage <= columns) return;
        const rows = counts.reduce((sum, own) => sum + Math.ceil(own / columns), 0);
        expect(rows * tileHeight + (counts.length > 1 ? counts.length * 0.9 * unit : 0)).toBeLessThanOrEqual(height + 0.01);
      }),
    );
  });

  // 5 m · tan 15′ = 21.8 mm; a screen of 55 inches, 16 : 9, is 1,218 mm wide; capitals of Noto Sans are 0.714 of the type (its OS/2 table).
  it('have capitals of 15 minutes of arc at 5 m on 55 inches, or stand on several pages', () => {
    fc.assert(
      fc.property(halls, fc.constantFrom([1896, 870], [3792, 1740], [1256, 640]), (counts, [width = 0, height = 0]) => {
        const screen = width * (1920 / 1896);
        const { unit } = layFloor(counts, width, height, screen);
        const capital = ((unit * 0.714) / screen) * 1218;
        expect((Math.atan(capital / 5000) * 180 * 60) / Math.PI).toBeGreaterThanOrEqual(14.95);
      }),
    );
    expect(layFloor([52], 1663, 900, 1920).perPage).toBe(52);
    expect(layFloor([200], 1663, 900, 1920).perPage).toBeLessThan(200);
    expect(layFloor([5], 1896, 870, 1920).kind).toBe('full');
  });

  it('are seen each on some page, in their order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 2, max: 90 }), (count, perPage) => {
        const keys = Array.from({ length: count }, (_, at) => `c${at}`);
        const { pages } = pageOfFloor(keys, perPage, 0);
        const seen = Array.from({ length: pages }, (_, page) => pageOfFloor(keys, perPage, page).keys);
        expect(seen.flat()).toEqual(keys);
        for (const page of seen) expect(page.length).toBeLessThanOrEqual(perPage);
        expect(pageOfFloor(keys, perPage, -1)).toEqual(pageOfFloor(keys, perPage, pages - 1));
      }),
    );
  });
});

describe('a cause that silent carriages share', () => {
  const silent = (count: number, since = 1_000_000, step = 100) => Array.from({ length: count }, (_, at) => ({ key: `s/${at}`, since: since + at * step }));

  it('is shown when most fell silent together, with the time of the first', () => {
    expect(commonCause(silent(49), 50)).toMatchObject({ since: 1_000_000, keys: { length: 49 } });
    // A carriage that fell silent long before does not belong to it.
    expect(commonCause([...silent(1, 0), ...silent(20, 900_000)], 21)?.keys).toHaveLength(20);
  });

  it('does not exist if they are few, or fell silent one after the other', () => {
    expect(commonCause([], 0)).toBeNull();
    expect(commonCause(silent(2), 2)).toBeNull();
    expect(commonCause(silent(10), 50)).toBeNull();
    expect(commonCause(silent(10, 0, 60_000), 10)).toBeNull();
  });
});

describe('what is said from afar', () => {
  const said = (change: Partial<Carriage>, wide = true): string | null => {
    const carriage = madeCarriage('c1', change);
    return plain(shortForm(carriage, carriageVerdict(carriage, Date.parse(carriage.lastSeen ?? '') + 100, true), wide));
  };

  it('has the number first after its symbol', () => {
    expect(said({})).toBe('OK');
    // 36.6 − 34 = 2.6.
    expect(said({ ...atVoltage(36.6), alarms: [madeAlarm('c1')] })).toBe('U +2.6 V');
    expect(said({ ...atVoltage(36.6), alarms: [madeAlarm('c1')] }, false)).toBe('U +2.6');
    expect(said({ alarms: [madeAlarm('c1')] })).toBe('U max +1.2 V');
    expect(said({ travelSpeed: 430, alarms: [madeAlarm('c1', { quantity: 'travelSpeed', arc: null, limit: 450, worst: 420 })] })).toBe('v \u221220 mm/min');
    expect(said({ alarms: [madeAlarm('c1', { quantity: 'overlap', arc: null, limit: 0, worst: -5.5 })] })).toBe('gap 5.5 mm');
    expect(said({ drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 41.2, leavesAfter: 350 }] })).toBe('U in 41 s');
    expect(said({ welding: false })).toBe('arc off');
  });
});

describe('the order of the floor', () => {
  const now = Date.now();
  const rank = (alarms: readonly Alarm[], change = {}): number => {
    const carriage = madeCarriage('c1', { alarms: [...alarms], ...change });
    return troubleRank(carriage, carriageVerdict(carriage, now, true).verdict, false);
  };

  it('puts unacknowledged alarms before acknowledged ones, then shelved ones, then the rest; cleared ones do not count', () => {
    const alarm = (change: Partial<Alarm>): Alarm => madeAlarm('c1', change);
    const returnedAt = new Date(now).toISOString();
    const ranks = [
      rank([alarm({ priority: 'high' })]),
      rank([], { lastSeen: new Date(now - 9_000).toISOString() }),
      rank([alarm({ priority: 'medium' })]),
      rank([alarm({ priority: 'low' })]),
      rank([alarm({ priority: 'high', state: 'acknowledged' })]),
      rank([alarm({ priority: 'high', state: 'shelved' })]),
      rank([]),
    ];
    expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
    expect(new Set(ranks).size).toBe(ranks.length);
    expect(ranks.at(-1)).toBe(noTrouble);
    expect(rank([alarm({ priority: 'high', state: 'returned', returnedAt })])).toBe(noTrouble);
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

  it('treats a shelved excursion as an excursion', () => {
    const carriage = madeCarriage('c1', { alarms: [madeAlarm('c1', { state: 'shelved' })] });
    expect(carriageVerdict(carriage, now, true).verdict).toBe('outside');
    const over = madeCarriage('c1', { alarms: [madeAlarm('c1', { state: 'shelved', returnedAt: new Date(now).toISOString() })] });
    expect(carriageVerdict(over, now, true).verdict).toBe('inside');
  });
});

describe('how far out a value is', () => {
  it('is the newest one beyond its limit, or the worst where that is back inside', () => {
    // 35.2 − 34 = 1.2; 34.6 − 34 = 0.6.
    expect(plain(howFarOut(madeCarriage('c1', atVoltage(34.6)), madeAlarm('c1')))).toBe('0.6 V over');
    expect(plain(howFarOut(madeCarriage('c1', atVoltage(33.8)), madeAlarm('c1')))).toBe('up to 1.2 V over limit');
    expect(plain(howFarOut(madeCarriage('c1', { travelSpeed: 430 }), madeAlarm('c1', { quantity: 'travelSpeed', arc: null, limit: 450, worst: 420 })))).toBe('20 mm/min under');
    expect(howFarOut(madeCarriage('c1'), madeAlarm('c1', { quantity: 'polarity', limit: null, worst: null }))).toBeNull();
  });
});

describe('the place of a value in its window', () => {
  it('is shown with its distance if it is outside', () => {
    expect(placeIn({ min: 30, max: 34 }, 35.5)).toEqual({ side: 'above', by: 1.5 });
    expect(placeIn({ min: 30, max: 34 }, 29)).toEqual({ side: 'below', by: 1 });
    expect(placeIn({ min: 30, max: 34 }, 34).side).toBe('nearHigh');
    expect(placeIn({ min: 30, max: 34 }, 30.3).side).toBe('nearLow');
    expect(placeIn({ min: 30, max: 34 }, 32).side).toBe('inside');
    expect(placeIn({ max: 0.1 }, 0.02).side).toBe('inside');
    expect(placeIn({ min: 15 }, 12)).toEqual({ side: 'below', by: 3 });
  });

  it('lies on that side of the bar which the words say', () => {
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
        // Both ends of a window are on its bar, with room beyond them.
        for (const end of [window.min, window.max]) if (end !== undefined) expect(Math.abs(shareOf(scale, end) - 0.5)).toBeLessThan(0.5);
      }),
    );
  });
});

describe('digits of the station', () => {
  it('measure 25 mm on 24 inches for one and two arcs, in narrow and wide faces', () => {
    for (const shape of [{ width: 0.556, height: 0.688 }, { width: 0.696, height: 0.729 }]) {
      for (const count of [4, 6]) {
        const { digits } = layDigits(count, shape, 1680, 590, 1920, 30.72);
        expect((digits * shape.height * 531) / 1920).toBeGreaterThanOrEqual(24.99);
      }
    }
  });

  it('shrink where there are more arcs, so that all of them are seen', () => {
    const shape = { width: 0.556, height: 0.688 };
    for (const count of [8, 10, 12, 14]) {
      const { columns, digits } = layDigits(count, shape, 1680, 590, 1920, 30.72);
      expect(Math.ceil(count / columns) * digits).toBeLessThanOrEqual(590);
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

describe('what is known without a connection', () => {
  it('is nothing, of carriages with the arc off as well', () => {
    const at = Date.now();
    for (const change of [{}, { welding: false, run: null }, { alarms: [madeAlarm('c1')] }]) expect(carriageVerdict(madeCarriage('c1', change), at, false).verdict).toBe('lost');
  });
});

describe('the count in the title', () => {
  it('is put before the title once, and goes with the last alarm', () => {
    expect(countedTitle('Runs · Seamwarden', 3)).toBe('(3) Runs · Seamwarden');
    expect(countedTitle('(3) Runs · Seamwarden', 12)).toBe('(12) Runs · Seamwarden');
    expect(countedTitle('(12) Runs · Seamwarden', 0)).toBe('Runs · Seamwarden');
  });
});

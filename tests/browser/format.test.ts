import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatNumber, shown } from '../../dashboards/shared/units.js';
import { plantTime, timeInPlant } from '../../dashboards/shared/plant-time.js';
import { serviceFacts } from '../../dashboards/shared/service-facts.js';
import { formatAge, formatClock, formatDateTime, formatRunTime, formatZone } from '../../dashboards/shared/times.js';

describe('numbers', () => {
  it('round to their decimals', () => {
    expect(formatNumber(1.963636, 3)).toBe('1.964');
    expect(formatNumber(550.9166667, 1)).toBe('550.9');
    expect(formatNumber(30, 1)).toBe('30.0');
    expect(formatNumber(612.4, 0)).toBe('612');
    expect(shown('heatInput', 1.963636)).toBe('1.964\u00a0kJ/mm');
    expect(shown('travelled', null)).toBe('–\u00a0mm');
    expect(shown('currentVariation', 0.0324)).toBe('3.2\u00a0%');
  });

  it('have a real minus sign, and none before zero', () => {
    expect(formatNumber(-24.66, 1)).toBe('\u221224.7');
    expect(formatNumber(-0.04, 1)).toBe('0.0');
    expect(formatNumber(-0, 0)).toBe('0');
  });

  // ISO 80000-1, 7.3.2: groups of three parted by a small space; four digits need not be parted.
  it('are grouped from five digits on', () => {
    expect(formatNumber(3573.3, 1)).toBe('3573.3');
    expect(formatNumber(10_000, 0)).toBe('10\u202f000');
    expect(formatNumber(-1_234_567.89, 1)).toBe('\u22121\u202f234\u202f567.9');
  });

  it('that are missing are a dash, never 0', () => {
    for (const value of [null, undefined, Number.NaN, Infinity]) expect(formatNumber(value, 1)).toBe('–');
  });

  it('read back as what they were, to half the last digit', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e7, max: 1e7, noNaN: true }), fc.integer({ min: 0, max: 4 }), (value, decimals) => {
        const back = Number(formatNumber(value, decimals).replaceAll('\u202f', '').replace('\u2212', '-'));
        expect(Math.abs(back - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-8);
      }),
    );
  });
});

describe('times', () => {
  it('ages have one or two units', () => {
    expect([-5, 0, 349, 2_000, 9_949, 9_950, 61_000, 119_499, 119_500, 3_600_000, 5_400_000, 172_800_000].map((ms) => formatAge(ms).replaceAll('\u00a0', ' '))).toEqual([
      '0.0 s', '0.0 s', '0.3 s', '2.0 s', '9.9 s', '10 s', '61 s', '119 s', '1 min', '1 h', '1 h 30 min', '2 days',
    ]);
  });

  it('ages keep each number with its unit', () => {
    for (const ms of [0, 61_000, 600_000, 5_400_000]) expect(formatAge(ms)).not.toMatch(/\d (s|min|h)/);
  });

  it('of a run are minutes and seconds', () => {
    expect(formatRunTime(0, 0)).toBe('0:00');
    expect(formatRunTime(312.44, 1)).toBe('5:12.4');
    expect(formatRunTime(59.96, 1)).toBe('1:00.0');
    expect(formatRunTime(3725, 0)).toBe('1:02:05');
    expect(formatRunTime(-5, 0)).toBe('\u22120:05');
  });

  // Offsets of the IANA time zone database (tzdata): Berlin +1 h, +2 h from the last Sunday of March; Newfoundland −3:30; Shanghai +8 h.
  it('of day are in the zone of the plant, which is named', () => {
    const at = '2026-11-05T23:03:07.000Z';
    for (const [zone, clock] of [['Europe/Berlin', '2026-11-06 00:03:07'], ['Asia/Shanghai', '2026-11-06 07:03:07'], ['America/St_Johns', '2026-11-05 19:33:07']] as const) {
      serviceFacts.value = { version: '0', timeZone: zone, shifts: [], startedAt: at, mqtt: { embedded: true, host: '127.0.0.1', port: 1883 }, http: { host: '127.0.0.1', port: 8080 } };
      expect(formatDateTime(at), zone).toBe(clock);
      expect(formatClock(Date.parse(at)), zone).toBe(clock.slice(11));
    }
    serviceFacts.value = null;
    expect(formatDateTime('nonsense')).toBe('–');
    expect(formatZone('2026-01-05T00:00:00Z', 'Europe/Berlin')).toBe('Europe/Berlin, UTC+01:00');
    expect(formatZone('2026-07-05T00:00:00Z', 'Europe/Berlin')).toBe('Europe/Berlin, UTC+02:00');
    expect(formatZone('2026-01-05T00:00:00Z', 'America/St_Johns')).toBe('America/St Johns, UTC\u221203:30');
    expect(formatZone(0, 'UTC')).toBe('UTC');
  });

  it('that people enter are read in the zone of the plant, also where clocks are set', () => {
    const zone = 'Europe/Berlin';
    const at = (day: number, month: number, hour: number, minute = 0): string => new Date(timeInPlant({ year: 2026, month, day, hour, minute, second: 0 }, zone)).toISOString();
    expect(at(5, 11, 0)).toBe('2026-11-04T23:00:00.000Z');
    expect(at(5, 7, 0)).toBe('2026-07-04T22:00:00.000Z');
    // 29 March 2026: 02:00 does not exist; 25 October 2026: 02:30 comes twice.
    expect(at(29, 3, 2, 30)).toBe('2026-03-29T01:30:00.000Z');
    expect(at(25, 10, 2, 30)).toBe('2026-10-25T00:30:00.000Z');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_000_000_000 }), fc.constantFrom('Europe/Berlin', 'Asia/Shanghai', 'America/St_Johns', 'Australia/Lord_Howe'), (seconds, own) => {
        const back = timeInPlant(plantTime(seconds * 1000, own), own);
        // A time that comes twice is read as the first.
        expect([0, 1800, 3600, 7200]).toContain(seconds - back / 1000);
      }),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readDeviceTime } from '../../../shared/weld/decode/device-time.js';

const micros = (iso: string): number => Date.parse(iso) * 1000;

describe('device time as text', () => {
  // RFC 3339, section 5.8, all its examples from 1970 on; the instants in UTC are those the section gives in words.
  test.each([
    ['1985-04-12T23:20:50.52Z', micros('1985-04-12T23:20:50.520Z')],
    ['1996-12-19T16:39:57-08:00', micros('1996-12-20T00:39:57Z')],
    ['1990-12-31T23:59:60Z', micros('1991-01-01T00:00:00Z')],
    ['1990-12-31T15:59:60-08:00', micros('1991-01-01T00:00:00Z')],
  ])('RFC 3339 example %s', (text, expected) => {
    expect(readDeviceTime(text)).toBe(expected);
  });

  test('the example of 1937 lies before the accepted years', () => {
    expect(readDeviceTime('1937-01-01T12:00:27.87+00:20')).toBeNaN();
  });

  test.each([
    ['2026-11-25T09:00:12.4Z', 1_795_597_212_400_000],
    ['2026-11-25t09:00:12.4z', 1_795_597_212_400_000],
    ['2026-11-25 10:00:12.4+01:00', 1_795_597_212_400_000],
    ['2026-11-25T09:00:12.400000499999Z', 1_795_597_212_400_000],
    ['2026-11-25T09:00:12.4000005Z', 1_795_597_212_400_001],
    ['2026-11-25T09:00:12.9999999Z', 1_795_597_213_000_000],
    [`2026-11-25T09:00:12.4${'0'.repeat(500)}Z`, 1_795_597_212_400_000],
    ['1970-01-01T00:00:00Z', 0],
    ['1969-12-31T23:30:00-01:00', 1_800_000_000],
    ['2106-12-31T23:59:59.999999Z', micros('2107-01-01T00:00:00Z') - 1],
    ['2107-01-01T00:59:59+01:00', micros('2106-12-31T23:59:59Z')],
    ['2024-02-29T00:00:00Z', micros('2024-02-29T00:00:00Z')],
  ])('%s', (text, expected) => {
    expect(readDeviceTime(text)).toBe(expected);
  });

  test.each([
    '1969-12-31T23:59:59.999999Z', '1970-01-01T00:00:00+00:01', '2106-12-31T23:59:59.9999995Z', '2107-01-01T00:00:00Z',
    '0070-01-01T00:00:00Z', '2026-11-25', '2026-11-25T09:00:12', '2026-11-25T09:00Z', '2026-11-25T09:00:12.Z',
    '2026-13-01T00:00:00Z', '2026-00-01T00:00:00Z', '2026-02-29T00:00:00Z', '2100-02-29T00:00:00Z', '2026-04-31T00:00:00Z',
    '2026-11-25T24:00:00Z', '2026-11-25T09:60:00Z', '2026-11-25T09:00:61Z', '2026-11-25T09:00:60Z', '2026-11-25T23:59:60Z',
    '2026-11-25T09:00:12+24:00', '2026-11-25T09:00:12+01:60', '2026-11-25T09:00:12+0100', ' 2026-11-25T09:00:12Z',
    '2026-11-25T09:00:12Z\n', '1795590012400', '',
  ])('%j is not taken', (text) => {
    expect(readDeviceTime(text)).toBeNaN();
  });

  // The grammar of RFC 3339, section 5.6, with the small letters and the space that it allows.
  const grammar = /^\d{4}-\d\d-\d\d[Tt ]\d\d:\d\d:\d\d(\.\d+)?([Zz]|[+-]\d\d:\d\d)$/;

  test('a text that does not match the grammar is refused, wherever its fault lies', () => {
    const texts = fc.constantFrom('2026-11-25T09:00:12Z', '2026-11-25T09:00:12.4Z', '2026-11-25T09:00:12.400123+01:30', '2026-11-25T09:00:12-00:15');
    const letter = fc.oneof(fc.constantFrom('', '-', ':', '.', '+', 'Z', 'T', ' ', '0', '9', '/', '\u0660', '\uff11'), fc.string({ maxLength: 2 }));
    fc.assert(
      fc.property(texts, fc.nat(31), fc.nat(2), letter, (text, at, cut, put) => {
        const other = text.slice(0, at) + put + text.slice(at + cut);
        if (!grammar.test(other)) expect(readDeviceTime(other), other).toBeNaN();
      }),
      { numRuns: 5_000 },
    );
  });

  test('any instant with any offset gives what Date gives', () => {
    const last = Date.UTC(2107, 0, 1) - 1;
    fc.assert(
      fc.property(fc.integer({ min: 0, max: last }), fc.integer({ min: -1439, max: 1439 }), (ms, offset) => {
        const local = new Date(ms + offset * 60_000).toISOString().slice(0, -1);
        const hours = String(Math.trunc(Math.abs(offset) / 60)).padStart(2, '0');
        const minutes = String(Math.abs(offset) % 60).padStart(2, '0');
        expect(readDeviceTime(`${local}${offset < 0 ? '-' : '+'}${hours}:${minutes}`)).toBe(ms * 1000);
      }),
    );
  });
});

describe('device time as a number', () => {
  test.each([
    [0, 0],
    [-0, 0],
    [1_795_590_012_400, 1_795_590_012_400_000],
    [1_795_590_012_400.25, 1_795_590_012_400_250],
    [0.0004, 0],
    [0.0006, 1],
    [Date.UTC(2107, 0, 1) - 0.001, Date.UTC(2107, 0, 1) * 1000 - 1],
  ])('%d ms', (ms, expected) => {
    expect(readDeviceTime(ms)).toBe(expected);
  });

  test.each([-1, -0.001, Date.UTC(2107, 0, 1), 1e308, Number.POSITIVE_INFINITY, Number.NaN, true, null, {}, [0]])('%j is not taken', (value) => {
    expect(readDeviceTime(value)).toBeNaN();
  });
});

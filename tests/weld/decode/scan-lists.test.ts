import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeParsed, decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { scanFrom, scanLists } from '../../../shared/weld/decode/scan-lists.js';
import { payloadOf } from './payload.js';

const scannedNumbers = (text: string): readonly number[] | undefined => scanLists(payloadOf(`{"x":${text}}`))?.lists[0];

/** A decimal as devices write them, up to 15 digits. */
const decimal = fc
  .tuple(fc.boolean(), fc.bigInt({ min: 0n, max: 999_999_999_999_999n }), fc.integer({ min: 0, max: 15 }))
  .map(([negative, digits, decimals]) => {
    const padded = digits.toString().padStart(decimals + 1, '0').slice(-Math.max(15, decimals + 1));
    const whole = padded.slice(0, padded.length - decimals).replace(/^0+(?=\d)/, '');
    return `${negative ? '-' : ''}${whole}${decimals > 0 ? `.${padded.slice(-decimals)}` : ''}`;
  });

describe('lists of numbers taken out of the bytes', () => {
  test('give the doubles of JSON.parse, to the last bit', () => {
    let scanned = 0;
    fc.assert(
      fc.property(fc.array(decimal, { minLength: 1, maxLength: 20 }), fc.constantFrom(',', ' ,', ', ', '\n,\t'), (numbers, comma) => {
        const text = `[${numbers.join(comma)}]`;
        const got = scannedNumbers(text);
        if (got === undefined) return;
        scanned += 1;
        const expected = JSON.parse(text) as number[];
        expect(got.length).toBe(expected.length);
        expect(got.every((number, index) => Object.is(number, expected[index]))).toBe(true);
      }),
      { numRuns: 2000 },
    );
    // Most lists must have gone this way, or the test would show nothing.
    expect(scanned).toBeGreaterThan(500);
  });

  test.each(['[0.1,0.2,0.3]', '[-0]', '[-0.0]', '[0]', '[123456789012345]', '[0.00000000000001]', '[ 1 , 2 ]', '[612.39999999999]'])('%s', (text) => {
    const got = scannedNumbers(text);
    expect(got?.every((number, index) => Object.is(number, (JSON.parse(text) as number[])[index]))).toBe(true);
  });

  test.each([
    '[]', '[1,]', '[,1]', '[01]', '[-]', '[+1]', '[.5]', '[1.]', '[1e3]', '[1 2]', '[1', '[1}', '[null]', '["1"]', '[[1]]', '[1.5e]',
    '[1234567890123456]', '[0.123456789012345]', '[--1]', '[0x1]', '[1,2', '[',
  ])('%s is left to JSON.parse', (text) => {
    expect(scannedNumbers(text)).toBeUndefined();
  });
});

describe('blocks decoded with and without the scan', () => {
  const sample = fc.oneof(
    fc.integer({ min: -600, max: 600 }),
    fc.integer({ min: -49_999, max: 49_999 }).map((tenths) => tenths / 100),
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.constantFrom<unknown>(null, '1', 5001, [1]),
  );
  const values = fc.oneof({ weight: 4, arbitrary: fc.array(fc.integer({ min: -400, max: 400 }).map((v) => v / 8), { minLength: 60, maxLength: 60 }) }, { weight: 1, arbitrary: fc.array(sample, { minLength: 59, maxLength: 61 }) });
  const block = fc.record(
    {
      boot: fc.string({ unit: 'grapheme', maxLength: 66 }), seq: fc.integer({ min: -1 }), time: fc.oneof(fc.nat(), fc.constant('2026-11-25T09:00:12[1]Z')),
      interval: fc.constantFrom(1, 0.02, null), current: values, voltage: values, travelSpeed: fc.constant(520), 'a":[1,2],"': values, extra: values,
    },
    { requiredKeys: ['interval', 'current', 'voltage'] },
  );

  test('are the same in every respect', () => {
    let alone = 0;
    fc.assert(
      fc.property(fc.oneof(block, fc.array(block, { minLength: 1, maxLength: 4 })), fc.constantFrom(0, 2), (message, indent) => {
        const payload = payloadOf(JSON.stringify(message, null, indent));
        const decoded = decodeReadings(payload);
        expect(decoded).toStrictEqual(decodeParsed(payload));
        if (payload.length >= scanFrom && scanLists(payload) !== null && decoded.items.every((entry) => entry.kind === 'item')) alone += 1;
      }),
      { numRuns: 1000 },
    );
    expect(alone).toBeGreaterThan(50);
  });

  test('brackets, quotes and backslashes inside text are text', () => {
    const list = Array(200).fill(7);
    for (const boot of ['x":[1,2]', '\\":[1]', '\\', ':[1,2]', '"\\"":[3]']) {
      const payload = payloadOf({ boot, interval: 1, current: list, voltage: 30 });
      expect(scanLists(payload)?.lists).toEqual([list]);
      expect(decodeReadings(payload).items).toMatchObject([{ kind: 'item', item: { boot, count: 200, current: list } }]);
    }
  });

  test('a field given twice counts with its last value, as JSON.parse has it', () => {
    const long = `[${Array(200).fill(7).join(',')}]`;
    const payload = payloadOf(`{"interval":1,"current":[1,2],"voltage":1,"current":${long},"current":${long.replaceAll('7', '8')}}`);
    expect(decodeReadings(payload)).toStrictEqual(decodeParsed(payload));
    expect(decodeReadings(payload).items).toMatchObject([{ kind: 'item', item: { count: 200, current: { 0: 8 } } }]);
  });
});

import { describe, expect, test } from 'vitest';
import { decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { itemsOf, payloadOf, refusalOf } from './payload.js';
import { unsentValues } from '../../unsent.js';

const reading = { current: 612.4, voltage: 31.2 };

describe('readings and blocks', () => {
  // The two examples of the outside's description of a reading and a block.
  test('a reading with every field', () => {
    const payload = payloadOf(
      '{ "boot": "b7f1", "seq": 10412, "time": 1795590012400, "arc": 1, "current": 612.4, "voltage": 31.2,' +
        ' "travelSpeed": 520, "wireFeedSpeed": 1.21, "travel": 1284.5, "plateTemperature": 118 }',
    );
    expect(decodeReadings(payload)).toEqual({
      unknownFields: 0,
      items: [
        {
          kind: 'item',
          item: {
            boot: 'b7f1', seq: 10412, time: 1_795_590_012_400_000, arc: 1, interval: null, count: 1, current: 612.4, voltage: 31.2,
            ...unsentValues, travelSpeed: 520, wireFeedSpeed: 1.21, travel: 1284.5, plateTemperature: 118,
          },
        },
      ],
    });
  });

  test('a block', () => {
    const payload = payloadOf(
      '{ "boot": "b7f1", "seq": 10413, "time": 1795590012500, "interval": 1, "arc": 1,' +
        ' "current": [612.4, 611.9], "voltage": [31.2, 31.0], "travelSpeed": 520 }',
    );
    expect(itemsOf(decodeReadings(payload))).toEqual([
      {
        boot: 'b7f1', seq: 10413, time: 1_795_590_012_500_000, arc: 1, interval: 1, count: 2, current: [612.4, 611.9],
        voltage: [31.2, 31], ...unsentValues, travelSpeed: 520,
      },
    ]);
  });

  test('what is absent, or null, is null; the arc is 1', () => {
    const bare = { boot: null, seq: null, time: null, arc: 1, interval: null, count: 1, ...unsentValues };
    const nulls = { ...bare, arc: null, count: undefined };
    expect(itemsOf(decodeReadings(payloadOf([reading, { ...nulls, ...reading }])))).toEqual([
      { ...bare, ...reading },
      { ...bare, ...reading },
    ]);
  });

  test('boot without seq and seq without boot are accepted', () => {
    const [boot, seq] = itemsOf(decodeReadings(payloadOf([{ ...reading, boot: 'b' }, { ...reading, seq: 0 }])));
    expect(boot).toMatchObject({ boot: 'b', seq: null });
    expect(seq).toMatchObject({ boot: null, seq: 0 });
  });

  test('any field of a block may be a list or hold for all of it; scalars alone are a block of one sample', () => {
    const mixed = { interval: 5, current: 600, voltage: [30, 31], travel: [0, 1], plateTemperature: [20, 21], wireFeedSpeed: 1 };
    const [block, single] = itemsOf(decodeReadings(payloadOf([mixed, { interval: 5, ...reading }])));
    expect(block).toMatchObject({ count: 2, current: 600, voltage: [30, 31], travel: [0, 1], plateTemperature: [20, 21] });
    expect(single).toMatchObject({ count: 1, interval: 5, current: 612.4 });
  });

  test('a bad item in a list is refused alone, and the refusal still has boot and seq', () => {
    const message = decodeReadings(payloadOf([{ boot: 'b', seq: 1, ...reading }, { boot: 'b', seq: 2, current: 5001, voltage: 30 }, 7, { boot: 5, seq: 3, ...reading }]));
    expect(message.items).toMatchObject([
      { kind: 'item', item: { seq: 1 } },
      { kind: 'refused', boot: 'b', seq: 2, head: '{"boot":"b","seq":2,"current":5001,"voltage":30}' },
      { kind: 'refused', boot: null, seq: null, head: '7' },
      { kind: 'refused', boot: null, seq: 3 },
    ]);
  });

  test('unknown fields are ignored and counted', () => {
    const message = decodeReadings(payloadOf([{ ...reading, gas: 1 }, { ...reading, a: { b: [1] }, c: null }]));
    expect(itemsOf(message)).toHaveLength(2);
    expect(message.unknownFields).toBe(3);
    const block = decodeReadings(payloadOf({ interval: 1, current: Array(200).fill(1), voltage: 1, raw: Array(200).fill(2), current2: [1, 2] }));
    expect(itemsOf(block)).toMatchObject([{ count: 200 }]);
    expect(block.unknownFields).toBe(2);
  });
});

describe('limits', () => {
  const taken: readonly [string, unknown][] = [
    ['current', 5000], ['current', -5000], ['voltage', 500], ['voltage', -500], ['travelSpeed', 20_000], ['travelSpeed', -20_000],
    ['travelSpeed', 0], ['wireFeedSpeed', 100], ['wireFeedSpeed', -100], ['plateTemperature', -100], ['plateTemperature', 1500],
    ['travel', 1e7], ['travel', -1e7], ['interval', 0.02], ['interval', 1000], ['seq', 0], ['seq', 2 ** 53 - 1],
    ['boot', 'x'], ['boot', 'x'.repeat(64)], ['boot', 'é'.repeat(64)], ['boot', '𝔸'.repeat(64)], ['boot', ' '], ['arc', 1], ['arc', 6],
    ['time', 0], ['time', Date.UTC(2107, 0, 1) - 1], ['time', '2106-12-31T23:59:59.999Z'],
  ];
  test.each(taken)('%s %j is taken', (field, value) => {
    const [item] = itemsOf(decodeReadings(payloadOf({ ...reading, [field]: value })));
    expect(item).toBeDefined();
    if (field !== 'time') expect(item).toMatchObject({ [field]: value });
  });

  const refused: readonly [string, string, string][] = [
    ['current', '5000.000001', 'current: got 5000.000001; expected: a number from -5000 to 5000 (A)'],
    ['current', '-5001', 'current: got -5001; expected: a number from -5000 to 5000 (A)'],
    ['current', '1e999', 'current: got Infinity; expected: a number from -5000 to 5000 (A)'],
    ['current', '1e308', 'current: got 1e+308; expected: a number from -5000 to 5000 (A)'],
    ['current', '"612"', 'current: got "612"; expected: a number from -5000 to 5000 (A)'],
    ['current', 'null', 'current: missing; expected: a number from -5000 to 5000 (A)'],
    ['current', '[612]', 'current: got a list without interval; expected: one number, or a list together with interval (ms)'],
    ['current', '{"a":[1]}', 'current: got {"a":[1]}; expected: a number from -5000 to 5000 (A)'],
    ['voltage', '500.1', 'voltage: got 500.1; expected: a number from -500 to 500 (V)'],
    ['voltage', '-500.1', 'voltage: got -500.1; expected: a number from -500 to 500 (V)'],
    ['voltage', 'null', 'voltage: missing; expected: a number from -500 to 500 (V)'],
    ['travelSpeed', '20000.1', 'travelSpeed: got 20000.1; expected: a number from -20000 to 20000 (mm/min)'],
    ['travelSpeed', '-20000.1', 'travelSpeed: got -20000.1; expected: a number from -20000 to 20000 (mm/min)'],
    ['wireFeedSpeed', '100.1', 'wireFeedSpeed: got 100.1; expected: a number from -100 to 100 (m/min)'],
    ['wireFeedSpeed', '-100.1', 'wireFeedSpeed: got -100.1; expected: a number from -100 to 100 (m/min)'],
    ['travel', '10000000.1', 'travel: got 10000000.1; expected: a number from -10000000 to 10000000 (mm)'],
    ['travel', '-10000000.1', 'travel: got -10000000.1; expected: a number from -10000000 to 10000000 (mm)'],
    ['plateTemperature', '-100.1', 'plateTemperature: got -100.1; expected: a number from -100 to 1500 (°C)'],
    ['plateTemperature', '1500.1', 'plateTemperature: got 1500.1; expected: a number from -100 to 1500 (°C)'],
    ['interval', '0.0199', 'interval: got 0.0199; expected: a number from 0.02 to 1000 (ms)'],
    ['interval', '1000.1', 'interval: got 1000.1; expected: a number from 0.02 to 1000 (ms)'],
    ['interval', '"1"', 'interval: got "1"; expected: a number from 0.02 to 1000 (ms)'],
    ['seq', '-1', 'seq: got -1; expected: an integer from 0 to 9007199254740991'],
    ['seq', '1.5', 'seq: got 1.5; expected: an integer from 0 to 9007199254740991'],
    ['seq', '9007199254740992', 'seq: got 9007199254740992; expected: an integer from 0 to 9007199254740991'],
    ['seq', '"1"', 'seq: got "1"; expected: an integer from 0 to 9007199254740991'],
    ['boot', '7', 'boot: got 7; expected: text of 1 to 64 printable characters'],
    ['boot', '""', 'boot: got ""; expected: text of 1 to 64 printable characters'],
    ['boot', `"${'x'.repeat(65)}"`, `boot: got "${'x'.repeat(63)}; expected: text of 1 to 64 printable characters`],
    ['boot', '"a\\u0007b"', 'boot: got "a\\u0007b"; expected: text of 1 to 64 printable characters'],
    ['boot', '"a\\u202eb"', 'boot: got "a\uFFFDb"; expected: text of 1 to 64 printable characters'],
    ['boot', '"a\\ud800b"', 'boot: got "a\\ud800b"; expected: text of 1 to 64 printable characters'],
    ['arc', '0', 'arc: got 0; expected: an integer from 1 to 6'],
    ['arc', '7', 'arc: got 7; expected: an integer from 1 to 6'],
    ['arc', '1.5', 'arc: got 1.5; expected: an integer from 1 to 6'],
    ['arc', '"1"', 'arc: got "1"; expected: an integer from 1 to 6'],
    ['time', '-1', 'time: got -1; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    ['time', '4323369600000', 'time: got 4323369600000; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    ['time', '"soon"', 'time: got "soon"; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    ['time', 'true', 'time: got true; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
  ];
  test.each(refused)('%s %s is refused', (field, value, reason) => {
    const rest = Object.entries(reading).filter(([name]) => name !== field).map(([name, number]) => `"${name}":${number}`);
    const refusal = refusalOf(decodeReadings(payloadOf(`{${[...rest, `"${field}":${value}`].join(',')}}`)));
    expect(refusal.reason).toBe(reason);
  });
});

describe('limits of blocks', () => {
  const list = (count: number, value = 1): number[] => Array<number>(count).fill(value);

  test('1 and 10,000 samples are accepted', () => {
    const [one, most] = itemsOf(decodeReadings(payloadOf([{ interval: 1, current: [1], voltage: [2] }, { interval: 1, current: list(10_000), voltage: list(10_000) }])));
    expect(one?.count).toBe(1);
    expect(most?.count).toBe(10_000);
  });

  test.each([
    ['no sample', { interval: 1, current: [], voltage: [] }, 'current: got 0 samples; expected: 1 to 10000'],
    ['10,001 samples', { interval: 1, current: list(10_001), voltage: 30 }, 'current: got 10001 samples; expected: 1 to 10000'],
    [
      'different lengths', { interval: 1, current: list(3), voltage: list(2), travel: list(3), travelSpeed: 500 },
      'lists of different lengths: got current 3, voltage 2, travel 3 samples; expected: lists of equal length, or one number for the whole block',
    ],
    ['a sample outside', { interval: 1, current: [600, 601, 5001], voltage: 30 }, 'current[2]: got 5001; expected: a number from -5000 to 5000 (A)'],
    ['a null sample', { interval: 1, current: 600, voltage: [30, null] }, 'voltage[1]: got null; expected: a number from -500 to 500 (V)'],
    ['a text sample', { interval: 1, current: 600, voltage: ['30'] }, 'voltage[0]: got "30"; expected: a number from -500 to 500 (V)'],
    ['lists in a list', { interval: 1, current: [[600]], voltage: 30 }, 'current[0]: got [600]; expected: a number from -5000 to 5000 (A)'],
    ['a text for a list', { interval: 1, current: '600', voltage: 30 }, 'current: got "600"; expected: a number from -5000 to 5000 (A), or a list of them'],
    ['a late sample of a long block', { interval: 1, current: [...list(300), -5000.5], voltage: 30 }, 'current[300]: got -5000.5; expected: a number from -5000 to 5000 (A)'],
  ])('%s', (_name, block, reason) => {
    expect(refusalOf(decodeReadings(payloadOf(block))).reason).toBe(reason);
  });
});

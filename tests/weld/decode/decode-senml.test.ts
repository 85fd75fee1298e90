import { describe, expect, test } from 'vitest';
import { decodeSenml } from '../../../shared/weld/decode/decode-senml.js';
import { itemsOf, payloadOf, refusalOf } from './payload.js';

const arrived = 1_795_600_000_123_456;
const base = { bn: 'urn:dev:mac:0024befffe804ff1:', bt: 1_795_590_012.4 };
const current = (v: number, more = {}): object => ({ n: 'current', u: 'A', v, ...more });
const voltage = (v: number, more = {}): object => ({ n: 'voltage', u: 'V', v, ...more });
const decode = (records: readonly object[]): ReturnType<typeof decodeSenml> => decodeSenml(payloadOf(records), arrived);

describe('readings from SenML', () => {
  test('records of one time make one reading, in the units of the outside', () => {
    const pack = [
      { ...base, ...current(612.4) }, voltage(31.2), { n: 'travelSpeed', u: 'm/s', v: 0.01 }, { n: 'wireFeedSpeed', u: 'm/s', v: 0.02 },
      { n: 'travel', u: 'm', v: 1.2845 }, { n: 'plateTemperature', u: 'Cel', v: 118 },
    ];
    // 0.01 m/s are 600 mm/min, 0.02 m/s are 1.2 m/min, 1.2845 m are 1284.5 mm.
    const [item] = itemsOf(decode(pack));
    expect(item).toMatchObject({
      boot: null, seq: null, time: 1_795_590_012_400_000, arc: 1, interval: null, count: 1, current: 612.4, voltage: 31.2, plateTemperature: 118,
    });
    expect(item?.travelSpeed).toBeCloseTo(600, 9);
    expect(item?.wireFeedSpeed).toBeCloseTo(1.2, 12);
    expect(item?.travel).toBeCloseTo(1284.5, 9);
  });

  test('arcs by base name or by name, in order of time and arc', () => {
    const pack = [
      { bn: 'urn:x:arc2:', bt: base.bt, ...current(500, { t: 0.1 }) }, voltage(34, { t: 0.1 }), current(501), voltage(34.1),
      { bn: 'urn:x:', n: 'arc1:current', u: 'A', v: 600 }, { n: 'arc1:voltage', u: 'V', v: 30 },
      { n: 'current', u: 'A', v: 610, t: 0.1 }, { n: 'voltage', u: 'V', v: 31, t: 0.1 },
    ];
    expect(itemsOf(decode(pack)).map(({ time, arc, current: i }) => [(time ?? 0) - 1_795_590_012_400_000, arc, i])).toEqual([
      [0, 1, 600], [0, 2, 501], [100_000, 1, 610], [100_000, 2, 500],
    ]);
  });

  test('slow quantities apply from their time on, and do not make a reading alone', () => {
    const pack = [
      { ...base, ...current(600) }, voltage(30), current(601, { t: 1 }), voltage(30, { t: 1 }), current(602, { t: 2 }), voltage(30, { t: 2 }),
      { n: 'plateTemperature', u: 'Cel', v: 100, t: 0.5 }, { n: 'plateTemperature', u: 'Cel', v: 110, t: 2 }, { n: 'travel', u: 'm', v: 1, t: 5 },
      { n: 'wireFeedSpeed', u: 'm/s', v: 0.02, t: 1.5 },
    ];
    expect(itemsOf(decode(pack)).map(({ plateTemperature, travel, wireFeedSpeed }) => [plateTemperature, travel, wireFeedSpeed])).toEqual([
      [null, null, null], [100, null, null], [110, null, 1.2],
    ]);
  });

  test('travel and temperature without an arc are the carriage\'s, wire feed without one is that of arc 1', () => {
    const pack = [
      { ...base, n: 'arc2:current', u: 'A', v: 500 }, { n: 'arc2:voltage', u: 'V', v: 34 }, { n: 'travelSpeed', u: 'm/s', v: 0.01 },
      { n: 'plateTemperature', u: 'Cel', v: 90 }, { n: 'wireFeedSpeed', u: 'm/s', v: 0.02 }, { n: 'arc2:travel', u: 'm', v: 2 },
    ];
    expect(itemsOf(decode(pack))).toMatchObject([{ arc: 2, travelSpeed: 600, plateTemperature: 90, wireFeedSpeed: null, travel: 2000 }]);
  });

  test('base value, base unit and the RFC\'s own second example of 5.1.2', () => {
    expect(itemsOf(decode([{ ...base, bu: 'A', bv: 600, n: 'current', v: 12.5 }, { n: 'voltage', u: 'V', bv: 0, v: 30 }]))).toMatchObject([
      { current: 612.5, voltage: 30 },
    ]);
    const example = [
      { bn: 'urn:dev:ow:10e2073a0108006:', bt: 1.276020076001e9, bu: 'A', bver: 5, n: 'voltage', u: 'V', v: 120.1 },
      ...[1.2, 1.3, 1.4, 1.5, 1.6].map((v, index) => ({ n: 'current', t: index - 5, v })), { n: 'current', v: 1.7 },
    ];
    const message = decode(example);
    expect(message.items.map(({ kind }) => kind)).toEqual([...Array<string>(5).fill('refused'), 'item']);
    expect(message.items[5]).toMatchObject({ item: { time: 1_276_020_076_001_000, current: 1.7, voltage: 120.1 } });
  });

  test('records of other names are ignored and counted', () => {
    const message = decode([{ ...base, ...current(600), extra: 1 }, voltage(30), { n: 'overcurrent', u: 'A', v: 1 }, { n: 'label', vs: 'x' }]);
    expect(itemsOf(message)).toMatchObject([{ current: 600 }]);
    expect(message.unknownFields).toBe(3);
  });
});

describe('times relative to now', () => {
  test('one instant has no time', () => {
    expect(itemsOf(decode([{ bn: base.bn, ...current(600) }, voltage(30)]))).toMatchObject([{ time: null, boot: null, seq: null }]);
    expect(itemsOf(decode([{ bn: base.bn, bt: -3, ...current(600) }, voltage(30), { n: 'arc2:current', u: 'A', v: 1 }, { n: 'arc2:voltage', u: 'V', v: 1 }]))).toMatchObject([
      { arc: 1, time: null }, { arc: 2, time: null },
    ]);
  });

  test('several instants keep their spacing, with the arrival as now', () => {
    const pack = [{ bn: base.bn, ...current(600, { t: -0.2 }) }, voltage(30, { t: -0.2 }), current(601, { t: -0.1 }), voltage(30, { t: -0.1 }), current(602), voltage(30)];
    expect(itemsOf(decode(pack)).map(({ time }) => time)).toEqual([arrived - 200_000, arrived - 100_000, arrived]);
  });
});

describe('refusals', () => {
  const name = (quantity: string): string => `urn:dev:mac:0024befffe804ff1:${quantity}`;

  test.each([
    ['mA', [{ ...base, ...current(1, { u: 'mA' }) }, voltage(30)], `${name('current')}: unit: got "mA"; expected: "A"`],
    ['mm/min', [{ ...base, ...current(1) }, voltage(30), { n: 'travelSpeed', u: 'mm/min', v: 5 }], `${name('travelSpeed')}: unit: got "mm/min"; expected: "m/s"`],
    ['no unit', [{ ...base, n: 'current', v: 1 }, voltage(30)], `${name('current')}: unit missing; expected: "A"`],
    ['text', [{ ...base, n: 'current', u: 'A', vs: 'high' }, voltage(30)], `${name('current')}: value: got "high"; expected: a number (v)`],
    ['a sum alone', [{ ...base, n: 'current', u: 'A', s: 5 }, voltage(30)], `${name('current')}: value: got null; expected: a number (v)`],
    ['too much current', [{ ...base, ...current(5000.1) }, voltage(30)], `${name('current')}: got 5000.1; expected: -5000 to 5000 (A)`],
    ['too much voltage', [{ ...base, ...current(500) }, voltage(-500.1)], `${name('voltage')}: got -500.1; expected: -500 to 500 (V)`],
    ['too fast', [{ ...base, ...current(5) }, voltage(30), { n: 'travelSpeed', u: 'm/s', v: 0.334 }], `${name('travelSpeed')}: got 0.334; expected: -0.3333333333333333 to 0.3333333333333333 (m/s)`],
    ['too far', [{ ...base, ...current(5) }, voltage(30), { n: 'travel', u: 'm', v: 10_001 }], `${name('travel')}: got 10001; expected: -10000 to 10000 (m)`],
    ['arc 7', [{ ...base, n: 'arc7:current', u: 'A', v: 5 }], `${name('arc7:current')}: arc: got 7; expected: arc1 to arc6`],
    ['given twice', [{ ...base, ...current(5) }, current(6), voltage(30)], `${name('current')}: given twice for one time; expected: one value`],
    ['no voltage', [{ ...base, ...current(5) }], `voltage: missing for arc 1 at the time of ${name('current')}; expected: a record of voltage (V) at the same time`],
    ['no current', [{ ...base, ...voltage(5) }], `current: missing for arc 1 at the time of ${name('voltage')}; expected: a record of current (A) at the same time`],
    ['slow quantities alone', [{ ...base, n: 'travel', u: 'm', v: 1 }], 'the pack has neither current nor voltage; expected: records whose names end in current (A) and voltage (V)'],
    ['nothing known', [{ ...base, n: 'gas', u: 'l/s', v: 1 }], 'the pack has neither current nor voltage; expected: records whose names end in current (A) and voltage (V)'],
    ['an empty pack', [], 'the pack has 0 records; expected: 1 to 10000'],
    ['beyond 2106', [{ bn: 'a:', bt: 4_323_369_600, ...current(1) }, voltage(1)], 'a:current: time: got 4323369600 s; expected: Unix milliseconds or RFC 3339 text, from 1970-01-01T00:00:00Z to the end of 2106'],
    ['a field that must be understood', [{ ...base, ...current(1), z_: 1 }, voltage(1)], 'record 1: the field "z_" must be understood (its name ends in _) and is not (RFC 8428, section 4.4)'],
  ])('%s', (_name, records, reason) => {
    expect(refusalOf(decode(records))).toMatchObject({ reason, boot: null, seq: null });
  });

  test('a bad reading is refused alone', () => {
    const message = decode([{ ...base, ...current(600) }, voltage(30), current(601, { t: 1 }), current(602, { t: 2 }), voltage(31, { t: 2 }), { n: 'arc9:current', u: 'A', v: 1 }]);
    expect(message.items.map(({ kind }) => kind)).toEqual(['item', 'refused', 'refused', 'item']);
  });

  test('1,000 readings are accepted, 1,001 are not', () => {
    const pack = (count: number): object[] => Array.from({ length: count }, (_, k) => [{ bn: 'a:', bt: base.bt, ...current(1, { t: k }) }, voltage(1, { t: k })]).flat();
    expect(itemsOf(decode(pack(1000)))).toHaveLength(1000);
    expect(refusalOf(decode(pack(1001))).reason).toBe('the pack has 1001 readings; expected: at most 1000');
  });
});

import { describe, expect, test } from 'vitest';
import { resolveSenml, type SenmlRecord } from '../../../shared/weld/decode/senml-resolve.js';

function resolved(pack: string): readonly SenmlRecord[] {
  const result = resolveSenml(JSON.parse(pack));
  if (!result.ok) throw new Error(result.reason);
  return result.records;
}

function rejection(pack: string): string {
  const result = resolveSenml(JSON.parse(pack));
  if (result.ok) throw new Error('not rejected');
  return result.reason;
}

const device = 'urn:dev:ow:10e2073a01080063';

/** A record as it should be resolved: relative to now where its time is 0 or given so. */
function record(name: string, unit: string | null, value: SenmlRecord['value'], time = 0): SenmlRecord {
  return { name, unit, value, time, relative: time < 2 ** 28, sum: null };
}

// The packs are those of RFC 8428, section 5.1, in the text of July 2018 as its working group keeps it.
describe('examples of RFC 8428', () => {
  test('5.1.1 single data point', () => {
    expect(resolved('[{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}]')).toEqual([record(device, 'Cel', 23.1)]);
  });

  test('5.1.2 multiple data points, now', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a01080063:","n":"voltage","u":"V","v":120.1},
      {"n":"current","u":"A","v":1.2}
    ]`;
    expect(resolved(pack)).toEqual([record(`${device}:voltage`, 'V', 120.1), record(`${device}:current`, 'A', 1.2)]);
  });

  test('5.1.2 current at each second for the previous 5 seconds', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,
       "bu":"A","bver":5,
       "n":"voltage","u":"V","v":120.1},
      {"n":"current","t":-5,"v":1.2},
      {"n":"current","t":-4,"v":1.3},
      {"n":"current","t":-3,"v":1.4},
      {"n":"current","t":-2,"v":1.5},
      {"n":"current","t":-1,"v":1.6},
      {"n":"current","v":1.7}
    ]`;
    // "Tue Jun 8 18:01:16.001 UTC 2010"
    const now = Date.UTC(2010, 5, 8, 18, 1, 16, 1) / 1000;
    const current = (value: number, ago: number): SenmlRecord => record('urn:dev:ow:10e2073a0108006:current', 'A', value, now - ago);
    expect(resolved(pack)).toEqual([
      record('urn:dev:ow:10e2073a0108006:voltage', 'V', 120.1, now),
      current(1.2, 5), current(1.3, 4), current(1.4, 3), current(1.5, 2), current(1.6, 1), current(1.7, 0),
    ]);
  });

  test('5.1.2 the stream of measurements, closed after what the section shows of it', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,
       "bu":"%RH","v":21.2},
      {"t":10,"v":21.3},
      {"t":20,"v":21.4},
      {"t":30,"v":21.4},
      {"t":40,"v":21.5},
      {"t":50,"v":21.5},
      {"t":60,"v":21.5},
      {"t":70,"v":21.6},
      {"t":80,"v":21.7}
    ]`;
    const values = [21.2, 21.3, 21.4, 21.4, 21.5, 21.5, 21.5, 21.6, 21.7];
    expect(resolved(pack)).toEqual(values.map((value, index) => record(device, '%RH', value, 1_320_067_464 + 10 * index)));
  });

  test('5.1.3 multiple measurements resolve to 5.1.4', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,
       "bu":"%RH","v":20},
      {"u":"lon","v":24.30621},
      {"u":"lat","v":60.07965},
      {"t":60,"v":20.3},
      {"u":"lon","t":60,"v":24.30622},
      {"u":"lat","t":60,"v":60.07965},
      {"t":120,"v":20.7},
      {"u":"lon","t":120,"v":24.30623},
      {"u":"lat","t":120,"v":60.07966},
      {"u":"%EL","t":150,"v":98},
      {"t":180,"v":21.2},
      {"u":"lon","t":180,"v":24.30628},
      {"u":"lat","t":180,"v":60.07967}
    ]`;
    const section514 = `[
      {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067464e+09,"v":20},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067464e+09,"v":24.30621},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067464e+09,"v":60.07965},
      {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067524e+09,"v":20.3},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067524e+09,"v":24.30622},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067524e+09,"v":60.07965},
      {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067584e+09,"v":20.7},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067584e+09,"v":24.30623},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067584e+09,"v":60.07966},
      {"n":"urn:dev:ow:10e2073a01080063","u":"%EL","t":1.320067614e+09,"v":98},
      {"n":"urn:dev:ow:10e2073a01080063","u":"%RH","t":1.320067644e+09,"v":21.2},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lon","t":1.320067644e+09,"v":24.30628},
      {"n":"urn:dev:ow:10e2073a01080063","u":"lat","t":1.320067644e+09,"v":60.07967}
    ]`;
    const expected = (JSON.parse(section514) as { n: string; u: string; t: number; v: number }[]).map(({ n, u, t, v }) => record(n, u, v, t));
    expect(resolved(pack)).toEqual(expected);
    // Resolving what is resolved already changes nothing (section 4.6).
    expect(resolved(section514)).toEqual(expected);
  });

  test('5.1.5 multiple data types', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},
      {"n":"label","vs":"Machine Room"},
      {"n":"open","vb":false},
      {"n":"nfv-reader","vd":"aGkgCg"}
    ]`;
    expect(resolved(pack)).toEqual([
      record(`${device}:temp`, 'Cel', 23.1),
      record(`${device}:label`, null, 'Machine Room'),
      record(`${device}:open`, null, false),
      record(`${device}:nfv-reader`, null, { data: 'aGkgCg' }),
    ]);
  });

  test('5.1.6 collection of resources: base name of the third record, base time of the first', () => {
    const pack = `[
      {"bn":"2001:db8::2/","bt":1.320078429e+09,
       "n":"temperature","u":"Cel","v":25.2},
      {"n":"humidity","u":"%RH","v":30},
      {"bn":"2001:db8::1/","n":"temperature","u":"Cel","v":12.3},
      {"n":"humidity","u":"%RH","v":67}
    ]`;
    // "Mon Oct 31 16:27:09 UTC 2011"
    const time = Date.UTC(2011, 9, 31, 16, 27, 9) / 1000;
    expect(resolved(pack)).toEqual([
      record('2001:db8::2/temperature', 'Cel', 25.2, time),
      record('2001:db8::2/humidity', '%RH', 30, time),
      record('2001:db8::1/temperature', 'Cel', 12.3, time),
      record('2001:db8::1/humidity', '%RH', 67, time),
    ]);
  });

  test('5.1.7 setting an actuator: a record of base fields alone is none', () => {
    const pack = `[
      {"bn":"urn:dev:ow:10e2073a01080063:"},
      {"n":"temp","u":"Cel","v":23.1},
      {"n":"heat","u":"/","v":1},
      {"n":"fan","u":"/","v":0}
    ]`;
    expect(resolved(pack)).toEqual([record(`${device}:temp`, 'Cel', 23.1), record(`${device}:heat`, '/', 1), record(`${device}:fan`, '/', 0)]);
  });

  test('5.1.7 two lights on, and off 100 ms in the future', () => {
    const on = `[
      {"bt":1.320078429e+09,"bu":"/","n":"2001:db8::3","v":1},
      {"n":"2001:db8::4","v":1}
    ]`;
    expect(resolved(on)).toEqual([record('2001:db8::3', '/', 1, 1_320_078_429), record('2001:db8::4', '/', 1, 1_320_078_429)]);
    const off = `[
      {"bt":1.320078429e+09,"bu":"/","n":"2001:db8::3","v":0.5},
      {"n":"2001:db8::4","v":0.5},
      {"n":"2001:db8::3","t":0.1,"v":0},
      {"n":"2001:db8::4","t":0.1,"v":0}
    ]`;
    expect(resolved(off).map(({ name, value, time }) => [name, value, time])).toEqual([
      ['2001:db8::3', 0.5, 1_320_078_429],
      ['2001:db8::4', 0.5, 1_320_078_429],
      ['2001:db8::3', 0, 1_320_078_429.1],
      ['2001:db8::4', 0, 1_320_078_429.1],
    ]);
  });
});

describe('base fields', () => {
  test('base value and value add, base sum and sum add (section 4.5.4)', () => {
    expect(resolved('[{"bn":"a","bv":100,"v":5},{"v":-1},{"n":"x"},{"bv":0,"v":7}]').map(({ value }) => value)).toEqual([105, 99, 100, 7]);
    const sums = resolved('[{"bn":"a","s":5},{"bs":10,"s":1},{"v":2}]');
    expect(sums.map(({ value, sum }) => [value, sum])).toEqual([[null, 5], [null, 11], [2, 10]]);
  });

  test('a time is absolute from 2^28 on (section 4.5.3: 1978-07-04 21:24:16 UTC)', () => {
    const packs = resolved(`[{"bn":"a","t":${2 ** 28 - 1},"v":1},{"t":${2 ** 28},"v":1},{"t":-5,"v":1}]`);
    expect(packs.map(({ relative }) => relative)).toEqual([true, false, true]);
    expect(Date.UTC(1978, 6, 4, 21, 24, 16) / 1000).toBe(2 ** 28);
  });

  test('unknown fields are ignored and counted', () => {
    expect(resolveSenml(JSON.parse('[{"n":"a","v":1,"x":2,"by":{}},{"n":"b","v":1,"x":2}]'))).toMatchObject({ ok: true, unknownFields: 3 });
  });
});

describe('packs rejected', () => {
  test.each([
    ['{}', 'the pack: got {}; expected: a list of SenML records'],
    ['[5]', 'record 1: got 5; expected: a SenML record (a JSON object)'],
    ['[{"n":"a","v":1},[]]', 'record 2: got []; expected: a SenML record (a JSON object)'],
    ['[{"n":"a","v":1,"x_":1}]', 'record 1: the field "x_" must be understood (its name ends in _) and is not (RFC 8428, section 4.4)'],
    ['[{"bver":11,"n":"a","v":1}]', 'record 1: bver: got 11; expected: a version from 1 to 10'],
    ['[{"bver":0,"n":"a","v":1}]', 'record 1: bver: got 0; expected: a version from 1 to 10'],
    ['[{"bver":1.5,"n":"a","v":1}]', 'record 1: bver: got 1.5; expected: a version from 1 to 10'],
    ['[{"bver":5,"n":"a","v":1},{"bver":6,"n":"a","v":1}]', 'record 2: bver: got 6; expected: 5, the version of the pack\'s first record'],
    ['[{"n":"a","v":1},{"bver":5,"n":"a","v":1}]', 'record 2: bver: got 5; expected: 10, the version of the pack\'s first record'],
    ['[{"n":"a","v":"1"}]', 'record 1: v: got "1"; expected: a number'],
    ['[{"n":"a","v":null}]', 'record 1: v: got null; expected: a number'],
    ['[{"n":"a","v":1e999}]', 'record 1: v: got Infinity; expected: a number'],
    ['[{"n":5,"v":1}]', 'record 1: n: got 5; expected: a string'],
    ['[{"n":"a","vb":1}]', 'record 1: vb: got 1; expected: a boolean'],
    ['[{"n":"a","vd":"a+b/"}]', 'record 1: vd: got "a+b/"; expected: base64 with the URL-safe alphabet'],
    ['[{"n":"a","v":1,"vs":"x"}]', 'record 1: got v and vs; expected: one of v, vs, vb, vd'],
    ['[{"n":"a"}]', 'record 1: has no value; expected: one of v, vs, vb, vd, or a sum s'],
    ['[{"v":1}]', 'record 1: the name: got ""; expected: letters, digits and - : . / _, beginning with a letter or digit'],
    ['[{"n":"_a","v":1}]', 'record 1: the name: got "_a"; expected: letters, digits and - : . / _, beginning with a letter or digit'],
    ['[{"n":"a b","v":1}]', 'record 1: the name: got "a b"; expected: letters, digits and - : . / _, beginning with a letter or digit'],
  ])('%s', (pack, reason) => {
    expect(rejection(pack)).toBe(reason);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeAssignment } from '../../../shared/weld/decode/decode-assignment.js';
import { decodeParsed, decodeReadings } from '../../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../../shared/weld/decode/decode-senml.js';
import { parseTopic } from '../../../shared/weld/decode/decode-topic.js';
import { makePrintable } from '../../../shared/weld/decode/printable.js';
import { itemsOf, payloadOf, refusalOf } from './payload.js';

const reading = '{"current":612.4,"voltage":31.2}';
const kinds = 'expected: a reading or a block (a JSON object), or a list of 1 to 1000 of them';

describe('messages that cannot be read are one refusal', () => {
  test.each([
    ['nothing', '', 'the payload is empty; expected: JSON in UTF-8'],
    ['a number', '5', `the payload: got 5; ${kinds}`],
    ['null', 'null', `the payload: got null; ${kinds}`],
    ['a text', '"x"', `the payload: got "x"; ${kinds}`],
    ['an empty list', '[]', `the payload is an empty list; ${kinds}`],
    ['1,001 entries', `[${Array(1001).fill(reading).join(',')}]`, `the payload is a list of 1001; ${kinds}`],
    ['more than 1 MiB', `${reading}${' '.repeat(1024 * 1024 + 1 - reading.length)}`, 'the payload has 1048577 bytes; expected: at most 1048576 (1 MiB)'],
  ])('%s', (_name, payload, reason) => {
    expect(refusalOf(decodeReadings(payloadOf(payload)))).toMatchObject({ reason, boot: null, seq: null });
  });

  test.each(['{', 'NaN', '{"current":NaN,"voltage":1}', '{"current":01,"voltage":1}', `{"current":[1,]${' '.repeat(500)}}`, '\u0000'])('not JSON: %j', (payload) => {
    expect(refusalOf(decodeReadings(payloadOf(payload))).reason).toMatch(/^the payload is not JSON \(.+\); expected: JSON in UTF-8$/);
  });

  test('bad UTF-8, with a printable head', () => {
    const refusal = refusalOf(decodeReadings(Uint8Array.of(0x7b, 0x22, 0xff, 0xfe, 0x07, 0x22, 0x7d)));
    expect(refusal.reason).toBe('the payload is not UTF-8; expected: JSON in UTF-8');
    expect(refusal.head).toBe('{"\uFFFD\uFFFD\uFFFD"}');
  });

  test('exactly 1,000 entries, exactly 1 MiB, and a byte order mark are accepted', () => {
    expect(itemsOf(decodeReadings(payloadOf(`[${Array(1000).fill(reading).join(',')}]`)))).toHaveLength(1000);
    expect(itemsOf(decodeReadings(payloadOf(reading + ' '.repeat(1024 * 1024 - reading.length))))).toHaveLength(1);
    expect(itemsOf(decodeReadings(payloadOf(`\uFEFF${reading}`)))).toHaveLength(1);
  });

  test('the head is 256 characters', () => {
    expect(refusalOf(decodeReadings(payloadOf(`"${'x'.repeat(5000)}"`))).head).toBe(`"${'x'.repeat(255)}`);
    const [, bad] = decodeReadings(payloadOf(`[${reading},{"current":"${'y'.repeat(5000)}"}]`)).items;
    expect(bad).toMatchObject({ head: `{"current":"${'y'.repeat(244)}` });
  });
});

describe('nesting', () => {
  const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);

  test.each([
    ['an unknown field', `{"current":1,"voltage":1,"x":${nested(200_000)}}`],
    ['a known field', `{"current":${nested(200_000)},"voltage":1}`],
    ['lists', nested(400_000)],
    ['objects', `${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}`],
  ])('deep in %s is one refusal', (_name, text) => {
    for (const decode of [decodeReadings, (payload: Uint8Array) => decodeSenml(payload, 0)]) {
      const refusal = refusalOf(decode(payloadOf(text)));
      expect(refusal.head.length).toBeLessThanOrEqual(256);
    }
    expect(decodeAssignment(payloadOf(text)).kind).toBe('refused');
  });

  test('32 levels are accepted, 33 are not, and only that item is refused', () => {
    const item = (depth: number): string => `{"seq":${depth},"current":1,"voltage":1,"x":${nested(depth - 1)}}`;
    expect(decodeReadings(payloadOf(`[${item(32)},${item(33)}]`)).items).toMatchObject([
      { kind: 'item' },
      { kind: 'refused', seq: 33, reason: 'the item nests deeper than 32; expected: a reading or a block (a JSON object)' },
    ]);
  });
});

describe('names of the object prototype', () => {
  const names = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', 'valueOf'];

  test.each(names)('%s is an unknown field like any other', (name) => {
    const evil = `"${name}":{"current":1,"voltage":2,"polluted":true,"seam":"x","run":1}`;
    const message = decodeReadings(payloadOf(`{"current":3,"voltage":4,${evil}}`));
    expect(itemsOf(message)).toMatchObject([{ current: 3, voltage: 4 }]);
    expect(message.unknownFields).toBe(1);
    expect(refusalOf(decodeReadings(payloadOf(`{${evil}}`))).reason).toMatch(/^current: missing/);
    expect(decodeAssignment(payloadOf(`{${evil}}`))).toMatchObject({ kind: 'refused' });
    expect(decodeAssignment(payloadOf(`{"seam":"s","run":2,${evil}}`))).toEqual({ kind: 'assignment', assignment: { seam: 's', run: 2 } });
    expect('polluted' in {}).toBe(false);
  });
});

describe('mutated payloads', () => {
  const seeds = [
    reading,
    `[${reading},{"boot":"b","seq":1,"time":"2026-11-25T09:00:12Z","current":1,"voltage":2}]`,
    JSON.stringify({ boot: 'b', seq: 3, time: 1.5, interval: 1, current: Array.from({ length: 90 }, (_, k) => 600 + k / 8), voltage: Array(90).fill(30.5) }),
    '[{"bn":"urn:dev:mac:0024befffe804ff1:arc2:","bt":1795590012.4,"n":"current","u":"A","v":600},{"n":"voltage","u":"V","v":30},{"n":"travel","u":"m","t":-1,"v":1}]',
    '{"seam":"DK-0417/L2","run":3,"time":1795590000000,"motion":"work","diameter":4200,"arcs":[{"arc":1,"wireDiameter":4}]}',
  ].map(payloadOf);
  const fragments = ['[', ']', '{', '}', '"', ',', ':', '-', '1e999', 'NaN', 'null', '__proto__', '\\u0000', '\\', '0', '.', ' '].map(payloadOf);

  const change = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    drop: fc.integer({ min: 0, max: 12 }),
    put: fc.oneof(fc.uint8Array({ maxLength: 4 }), fc.constantFrom(...fragments)),
  });

  function mutate(payload: Uint8Array, { at, drop, put }: { at: number; drop: number; put: Uint8Array }): Uint8Array {
    const from = Math.floor(at * payload.length);
    return Uint8Array.of(...payload.subarray(0, from), ...put, ...payload.subarray(from + drop));
  }

  test('nothing throws, every refusal has words and a printable head, and items hold to their limits', () => {
    fc.assert(
      fc.property(fc.constantFrom(...seeds), fc.array(change, { minLength: 1, maxLength: 6 }), (seed, changes) => {
        const payload = changes.reduce(mutate, seed);
        const readings = decodeReadings(payload);
        expect(readings).toEqual(decodeParsed(payload));
        for (const message of [readings, decodeSenml(payload, 1_795_590_012_400_000)]) {
          expect(message.items.length).toBeGreaterThan(0);
          for (const entry of message.items) {
            if (entry.kind === 'item') {
              const samples = [entry.item.current, entry.item.voltage].flat();
              expect(samples.every((sample) => Math.abs(sample) <= 5000)).toBe(true);
              expect(entry.item.time === null || Number.isSafeInteger(entry.item.time)).toBe(true);
            } else {
              expect(entry.reason).not.toBe('');
              expect(entry.head.length).toBeLessThanOrEqual(256);
              expect(makePrintable(entry.head + entry.reason)).toBe(entry.head + entry.reason);
            }
          }
        }
        expect(['assignment', 'end', 'refused']).toContain(decodeAssignment(payload).kind);
      }),
      { numRuns: 5000 },
    );
  });

  test('any text is a topic or a reason', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.array(fc.constantFrom('weld', '/', 'a', 'readings', '+', '#', '')).map((parts) => parts.join(''))), (topic) => {
        const parsed = parseTopic(topic);
        if ('reason' in parsed) expect(parsed.reason).toMatch(/; expected: /);
        else expect(`weld/${parsed.site}/${parsed.carriage}/${parsed.kind}`).toBe(topic);
      }),
    );
  });
});

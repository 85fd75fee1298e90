import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseLog } from './parse-log.js';
import type { ParsedLog } from './parse-log.js';
import { valueAt } from '../../shared/weld/items/item.js';

const start = Date.UTC(2026, 10, 25, 6);

function log(times: readonly number[], change: (line: string, place: number) => string | null = (line) => line): ParsedLog {
  const lines = times.flatMap((time, place) => change(`${time.toFixed(6)},${String(500 + (place % 97))},30`, place) ?? []);
  return parseLog(['time,current,voltage', ...lines].join('\n'), { start });
}
const even = (count: number, spacing: number): number[] => Array.from({ length: count }, (_, place) => place * spacing);
const shape = (parsed: ParsedLog): (number | null)[][] => parsed.items.map((item) => [item.seq, item.count, item.interval]);

describe('blocks', () => {
  test('lines at 1 kHz become blocks of 100', () => {
    expect(shape(log(even(250, 0.001)))).toEqual([[1, 100, 1], [2, 100, 1], [3, 50, 1]]);
  });

  test('at 10 ms they are packed, just above not', () => {
    expect(shape(log(even(120, 0.01)))).toEqual([[1, 100, 10], [2, 20, 10]]);
    const slow = log(even(120, 0.0101));
    expect(slow.items).toHaveLength(120);
    expect(slow.items.every((item) => item.interval === null)).toBe(true);
  });

  test('a rest of one line keeps its interval', () => {
    expect(shape(log(even(101, 0.001)))).toEqual([[1, 100, 1], [2, 1, 1]]);
  });

  test('times rounded to µs give the mean interval', () => {
    const parsed = log(even(100, 1 / 3000));
    expect(parsed.items).toHaveLength(1);
    expect(parsed.items[0]?.interval).toBeCloseTo(1 / 3, 5);
  });

  test('spacing that changes by more than a quarter breaks the block, by less it does not', () => {
    const bent = (factor: number): number[] => [...even(50, 0.001), ...even(50, 0.001 * factor).map((time) => 0.049 + 0.001 * factor + time)];
    expect(log(bent(1.2)).items.map((item) => item.count)).toEqual([100]);
    expect(log(bent(1.3)).items.map((item) => item.count)).toEqual([50, 50]);
  });

  test('a missing line and a refused one break it; only the refused one leaves a hole', () => {
    expect(shape(log(even(100, 0.001), (line, place) => (place === 40 ? null : line)))).toEqual([[1, 40, 1], [2, 59, 1]]);
    const refused = log(even(100, 0.001), (line, place) => (place === 40 ? `${line}x` : line));
    expect(shape(refused)).toEqual([[1, 40, 1], [3, 59, 1]]);
    expect(refused.refused.map((entry) => entry.line)).toEqual([42]);
    // The second block begins at the line after the hole.
    expect((refused.items[1]?.time ?? 0) - (refused.items[0]?.time ?? 0)).toBe(41_000);
  });

  test('equal times and times that run back stay readings or begin anew', () => {
    expect(shape(log([0, 0, 0]))).toEqual([[1, 1, null], [2, 1, null], [3, 1, null]]);
    expect(log([0, 0.001, 0.002, 0, 0.001, 0.002]).items.map((item) => item.count)).toEqual([3, 3]);
  });

  test('a slow column beside fast ones keeps its value until the next one', () => {
    const lines = Array.from({ length: 30 }, (_, place) => `${(place / 1000).toFixed(3)},600,30,${place === 5 ? '110' : place === 20 ? '111' : ''},520`);
    const parsed = parseLog(['time,current,voltage,plateTemperature,travelSpeed', ...lines].join('\n'), { start });
    // Nothing is known of the temperature before its first value, so a block of its own.
    expect(parsed.items.map((item) => item.count)).toEqual([5, 25]);
    expect(parsed.items[0]?.plateTemperature).toBeNull();
    expect(parsed.items[1]?.plateTemperature).toEqual([...new Array<number>(15).fill(110), ...new Array<number>(10).fill(111)]);
    expect(parsed.items.map((item) => item.travelSpeed)).toEqual([520, 520]);
  });
});

describe('several arcs', () => {
  const two = (lines: readonly (readonly [number, number])[]): ParsedLog =>
    parseLog(['time,arc,current,voltage', ...lines.map(([time, arc]) => `${time.toFixed(4)},${String(arc)},${String(600 + arc)},30`)].join('\n'), { start });
  const messages = (parsed: ParsedLog): (number | null)[][][] => parsed.messages.map((message) => message.map((item) => [item.seq, item.arc, item.count]));

  test('arcs at the same time share a seq and a message', () => {
    expect(messages(two([[0, 1], [0, 2], [1, 1], [1, 2], [2, 1]]))).toEqual([[[1, 1, 1], [1, 2, 1]], [[2, 1, 1], [2, 2, 1]], [[3, 1, 1]]]);
  });

  test('the same in blocks, and where one arc is listed after the other', () => {
    const times = even(150, 0.001);
    const expected = [[[1, 1, 100], [1, 2, 100]], [[2, 1, 50], [2, 2, 50]]];
    expect(messages(two(times.flatMap((time) => [[time, 1], [time, 2]] as const)))).toEqual(expected);
    expect(messages(two([...times.map((time) => [time, 1] as const), ...times.map((time) => [time, 2] as const)]))).toEqual(expected);
  });

  test('arcs sampled in turn are each packed by themselves, in the order of time', () => {
    const parsed = two(even(200, 0.0005).map((time, place) => [time, (place % 2) + 1] as const));
    expect(messages(parsed)).toEqual([[[1, 1, 100]], [[2, 2, 100]]]);
    expect(parsed.items.map((item) => item.interval)).toEqual([1, 1]);
  });
});

test('whatever the times, every line is in exactly one place, and the seqs rise', () => {
  const spacings = fc.array(fc.oneof(fc.constant(1000), fc.integer({ min: 1, max: 30_000 }), fc.integer({ min: 990, max: 1010 })), { minLength: 1, maxLength: 400 });
  fc.assert(
    fc.property(spacings, (list) => {
      let time = 0;
      const times = list.map((spacing) => (time += spacing) / 1e6);
      const parsed = log(times);
      expect(parsed.refused).toEqual([]);
      let line = 0;
      for (const item of parsed.items) {
        expect(item.seq).toBe(parsed.items.indexOf(item) + 1);
        for (let sample = 0; sample < item.count; sample += 1, line += 1) {
          expect(valueAt(item.current, sample)).toBe(500 + (line % 97));
          const at = (item.time ?? 0) + sample * (item.interval ?? 0) * 1000;
          const stated = start * 1000 + Math.round((times[line] ?? 0) * 1e6);
          // A block of uneven spacings may differ by what a quarter of its interval adds up to over 100 samples at most.
          expect(Math.abs(at - stated)).toBeLessThanOrEqual(25 * 1000 * (item.interval ?? 0));
          if (sample === 0) expect(item.time).toBe(stated);
        }
      }
      expect(line).toBe(list.length);
    }),
    { numRuns: 200 },
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isFull } from '../counts.js';
import { addSeq, emptySeqSet, lastSeq, ranges, storedMark, type SeqSet } from '../../shared/weld/items/seq-marks.js';

/** Whether a number is in a set: then it cannot be added. */
const hasSeq = (set: SeqSet, seq: number): boolean => !addSeq(structuredClone(set), seq);

/** The maximal ranges of a plain set: what `ranges` must give. */
function plainRanges(seqs: ReadonlySet<number>): [number, number][] {
  const result: [number, number][] = [];
  for (const seq of [...seqs].sort((a, b) => a - b)) {
    const last = result.at(-1);
    if (last?.[1] === seq - 1) last[1] = seq;
    else result.push([seq, seq]);
  }
  return result;
}

function setOf(seqs: Iterable<number>): SeqSet {
  const set = emptySeqSet();
  for (const seq of seqs) addSeq(set, seq);
  return set;
}

/** A permutation from a seed, without a library (Lehmer's generator, 48271 modulo 2^31 - 1). */
function shuffled(seqs: readonly number[], seed: number): number[] {
  const result = [...seqs];
  let state = seed;
  for (let index = result.length - 1; index > 0; index -= 1) {
    state = (state * 48_271) % 2_147_483_647;
    const other = state % (index + 1);
    [result[index], result[other]] = [result[other] ?? 0, result[index] ?? 0];
  }
  return result;
}

describe('against a plain set', () => {
  const dense = fc.array(fc.nat({ max: 60 }), { maxLength: 80 });
  const wide = fc.array(fc.oneof(fc.nat({ max: 40 }), fc.maxSafeNat(), fc.integer({ min: 2 ** 53 - 30, max: 2 ** 53 - 1 })), { maxLength: 40 });
  const stepped = fc
    .tuple(fc.nat({ max: 50 }), fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 60 }), dense)
    .map(([from, step, count, others]) => [...Array.from({ length: count }, (_, k) => from + k * step), ...others]);
  const arrivals = fc.oneof(dense, wide, stepped, stepped.chain((seqs) => fc.shuffledSubarray(seqs)));

  test('adding, looking up and listing agree after every step, and equal sets look equal', () => {
    fc.assert(
      fc.property(arrivals, (seqs) => {
        const set = emptySeqSet();
        const plain = new Set<number>();
        for (const seq of seqs) {
          expect(hasSeq(set, seq)).toBe(plain.has(seq));
          expect(addSeq(set, seq)).toBe(!plain.has(seq));
          plain.add(seq);
          expect(hasSeq(set, seq)).toBe(true);
        }
        for (let seq = 0; seq <= 400; seq += 1) expect(hasSeq(set, seq)).toBe(plain.has(seq));
        expect([...ranges(set)]).toEqual(plainRanges(plain));
        expect(lastSeq(set)).toBe(Math.max(-1, ...plain));
        expect(set).toEqual(setOf([...plain].sort((a, b) => a - b)));
        expect(JSON.parse(JSON.stringify(set))).toEqual(set);
      }),
      { numRuns: isFull ? 1000 : 250 },
    );
  });

  test('the mark agrees', () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 300 }), { minLength: 1, maxLength: 250 }), (seqs) => {
        const all = plainRanges(new Set(seqs));
        const holes = all.slice(1).map(([from], index) => [(all[index]?.[1] ?? 0) + 1, from - 1]);
        expect(storedMark(setOf(seqs))).toEqual({ first: all[0]?.[0], seq: all[0]?.[1], missing: holes.slice(0, 32) });
      }),
    );
  });
});

describe('size', () => {
  const size = (set: SeqSet): number => JSON.stringify(set).length;

  test.each([1, 2, 3])('a million seqs in order, every %i-th, are one entry', (step) => {
    const set = emptySeqSet();
    for (let k = 0; k < 1_000_000; k += 1) addSeq(set, 17 + k * step);
    expect(set).toEqual({ first: 17, to: [17 + 999_999 * step], step: [step] });
    expect(hasSeq(set, 17 + 500_000 * step)).toBe(true);
    expect(hasSeq(set, 17 + 1_000_000 * step)).toBe(false);
    expect(addSeq(set, 17 + 123_456 * step)).toBe(false);
    expect(size(set)).toBeLessThan(60);
  });

  test.each([1, 2, 3, 6])('shuffled arrivals of every %i-th end at one entry', (step) => {
    const seqs = Array.from({ length: 20_000 }, (_, k) => 5 + k * step);
    const set = setOf(shuffled(seqs, 4711 + step));
    expect(set).toEqual({ first: 5, to: [5 + 19_999 * step], step: [step] });
  });

  test('single seqs lost or inserted cost an entry or two each, and nothing once they have come', () => {
    const seqs = Array.from({ length: 10_000 }, (_, k) => 2 * k);
    const late = new Set([2000, 4000, 4002, 17_000]);
    const set = setOf(seqs.filter((seq) => !late.has(seq)));
    expect(set.to).toHaveLength(7);
    addSeq(set, 9001);
    expect(set.to).toHaveLength(9);
    for (const seq of late) addSeq(set, seq);
    expect(set).toEqual({ first: 0, to: [9000, 9002, 19_998], step: [2, 1, 2] });
  });
});

describe('the stored mark', () => {
  test('of nothing is empty', () => {
    expect(storedMark(emptySeqSet())).toBeNull();
    expect([...ranges(emptySeqSet())]).toEqual([]);
  });

  test('begins at the lowest seq, may go back when a lower one comes, and names the holes', () => {
    const set = setOf([100, 101, 102, 105, 107, 108]);
    expect(storedMark(set)).toEqual({ first: 100, seq: 102, missing: [[103, 104], [106, 106]] });
    addSeq(set, 98);
    expect(storedMark(set)).toEqual({ first: 98, seq: 98, missing: [[99, 99], [103, 104], [106, 106]] });
    for (const seq of [99, 103, 104, 106]) addSeq(set, seq);
    expect(storedMark(set)).toEqual({ first: 98, seq: 108, missing: [] });
  });

  test('names the lowest 32 holes', () => {
    const mark = storedMark(setOf(Array.from({ length: 100_000 }, (_, k) => 3 * k)));
    expect(mark?.missing).toHaveLength(32);
    expect(mark?.missing.at(0)).toEqual([1, 2]);
    expect(mark?.missing.at(-1)).toEqual([94, 95]);
  });

  test('reaches 2^53 - 1', () => {
    const top = Number.MAX_SAFE_INTEGER;
    expect(storedMark(setOf([0, top, top - 2]))).toEqual({ first: 0, seq: 0, missing: [[1, top - 3], [top - 1, top - 1]] });
  });
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addSeq, countSeq, emptySeqSet, isGivenUp, mostStretches, storedMark } from '../../shared/weld/seq-marks.js';
import type { SeqSet } from '../../shared/weld/seq-marks.js';
import { readMarks, writeMarks } from '../../shared/weld/seq-marks-text.js';

function setOf(seqs: Iterable<number>): SeqSet {
  const set = emptySeqSet();
  for (const seq of seqs) addSeq(set, seq);
  return set;
}

/** Numbers whose distances never repeat in a row: 1, 3, 2, 5, 1, 3, … */
function irregular(count: number): number[] {
  const seqs: number[] = [];
  for (let at = 0, seq = 0; at < count; at += 1) seqs.push((seq += [1, 3, 2, 5][at % 4] ?? 1));
  return seqs;
}

test('however irregular the numbers, what is remembered of them is bounded, and none is counted twice', () => {
  const seqs = irregular(200_000);
  const set = setOf(seqs);
  expect(set.to.length).toBeLessThanOrEqual(mostStretches);
  expect(seqs.some((seq) => addSeq(set, seq))).toBe(false);
  const known = seqs.filter((seq) => !isGivenUp(set, seq));
  expect(known.length).toBeGreaterThan(mostStretches * 0.7);
  expect(countSeq(set)).toBe(known.length);
  expect(storedMark(set)?.first).toBe(known[0]);
  expect(writeMarks({ arcs: { 1: set }, any: set }).length).toBeLessThan(150_000);
});

test('a counter with thousands of holes forgets nothing, and takes what comes late once', () => {
  const holes = Array.from({ length: 2_000 }, (_, k) => 50 * k + 25);
  const missing = new Set(holes);
  const set = setOf(Array.from({ length: 100_000 }, (_, seq) => seq).filter((seq) => !missing.has(seq)));
  expect(set.below).toBeUndefined();
  for (const seq of holes) expect([addSeq(set, seq), addSeq(set, seq)]).toEqual([true, false]);
  expect(set).toEqual(setOf([0, ...Array.from({ length: 99_999 }, (_, k) => k + 1)]));
});

test('marks read back as they were written, and those of before are read as well', () => {
  const numbers = fc.array(fc.oneof(fc.nat({ max: 60 }), fc.maxSafeNat(), fc.integer({ min: 2 ** 53 - 30, max: 2 ** 53 - 1 })), { maxLength: 60 });
  const given = fc.tuple(numbers, fc.option(fc.nat(), { nil: undefined })).map(([seqs, below]): SeqSet => ({ ...setOf(seqs), ...(below === undefined ? {} : { below }) }));
  fc.assert(
    fc.property(fc.dictionary(fc.integer({ min: 1, max: 6 }).map(String), given, { maxKeys: 3 }), given, fc.boolean(), (arcs, other, alike) => {
      const marks = { arcs, any: alike ? (Object.values(arcs)[0] ?? emptySeqSet()) : other };
      expect(readMarks(writeMarks(marks))).toEqual(marks);
      expect(readMarks(JSON.stringify(marks))).toEqual(marks);
    }),
    { numRuns: 500 },
  );
});

test('marks that are written again and again read back as they are, wherever they changed meanwhile', () => {
  fc.assert(
    fc.property(fc.array(fc.oneof(fc.nat({ max: 9_000 }), fc.integer({ min: 9_000, max: 40_000 })), { maxLength: 60 }), (more) => {
      const set = setOf(irregular(2_400).map((seq) => 2 * seq));
      const marks = { arcs: { 1: set }, any: set };
      for (const seq of more) {
        addSeq(set, seq);
        expect(readMarks(writeMarks(marks))).toEqual(marks);
      }
    }),
    { numRuns: 30 },
  );
});

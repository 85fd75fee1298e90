import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addSeq, countSeq, emptySeqSet, isGivenUp, mostStretches, storedMark } from '../../shared/weld/items/seq-marks.js';
import type { SeqSet } from '../../shared/weld/items/seq-marks.js';
import { readMarks, writeMarks, type BootMarks, type MarkPiece } from '../../shared/weld/items/seq-marks-text.js';

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

test('however irregular the numbers, the memory for them is bounded, and none is counted twice', () => {
  const seqs = irregular(200_000);
  const set = setOf(seqs);
  expect(set.to.length).toBeLessThanOrEqual(mostStretches);
  expect(seqs.some((seq) => addSeq(set, seq))).toBe(false);
  const known = seqs.filter((seq) => !isGivenUp(set, seq));
  expect(known.length).toBeGreaterThan(mostStretches * 0.7);
  expect(countSeq(set)).toBe(known.length);
  expect(storedMark(set)?.first).toBe(known[0]);
  const { text, pieces } = writeMarks({ arcs: { 1: set }, any: set });
  expect([text, ...pieces.map(({ steps }) => steps)].join('').length).toBeLessThan(150_000);
});

test('a counter with thousands of holes forgets nothing, and counts late items once', () => {
  const holes = Array.from({ length: 2_000 }, (_, k) => 50 * k + 25);
  const missing = new Set(holes);
  const set = setOf(Array.from({ length: 100_000 }, (_, seq) => seq).filter((seq) => !missing.has(seq)));
  expect(set.below).toBeUndefined();
  for (const seq of holes) expect([addSeq(set, seq), addSeq(set, seq)]).toEqual([true, false]);
  expect(set).toEqual(setOf([0, ...Array.from({ length: 99_999 }, (_, k) => k + 1)]));
});

test('marks read back as they were written, and those of earlier versions can be read too', () => {
  const numbers = fc.array(fc.oneof(fc.nat({ max: 60 }), fc.maxSafeNat(), fc.integer({ min: 2 ** 53 - 30, max: 2 ** 53 - 1 })), { maxLength: 60 });
  const given = fc.tuple(numbers, fc.option(fc.nat(), { nil: undefined })).map(([seqs, below]): SeqSet => ({ ...setOf(seqs), ...(below === undefined ? {} : { below }) }));
  fc.assert(
    fc.property(fc.dictionary(fc.integer({ min: 1, max: 6 }).map(String), given, { maxKeys: 3 }), given, fc.boolean(), (arcs, other, alike) => {
      const marks = { arcs, any: alike ? (Object.values(arcs)[0] ?? emptySeqSet()) : other };
      expect(readMarks(writeMarks(marks).text)).toEqual(marks);
      expect(readMarks(JSON.stringify(marks))).toEqual(marks);
    }),
    { numRuns: 500 },
  );
});

/** A store of marks as the writer keeps it: the newest text, and pieces that stay until others take their place. */
function pieceStore(): { write: (marks: BootMarks) => string; read: (text: string) => BootMarks; readonly written: number } {
  const held = new Map<string, MarkPiece>();
  let written = 0;
  return {
    write: (marks) => {
      const { text, pieces, dropped } = writeMarks(marks);
      written = text.length;
      for (const own of pieces) {
        held.set(`${own.arc} ${own.piece}`, own);
        written += own.steps.length;
      }
      for (const { arc, before } of dropped) for (const [key, own] of held) if (own.arc === arc && own.piece < before) held.delete(key);
      return text;
    },
    read: (text) => readMarks(text, [...held.values()].sort((a, b) => a.arc - b.arc || a.piece - b.piece)),
    get written() {
      return written;
    },
  };
}

test('marks that are written again and again read back as they are, wherever they changed meanwhile', () => {
  fc.assert(
    fc.property(fc.array(fc.oneof(fc.nat({ max: 9_000 }), fc.integer({ min: 9_000, max: 40_000 })), { maxLength: 60 }), (more) => {
      const set = setOf(irregular(2_400).map((seq) => 2 * seq));
      const marks = { arcs: { 1: set }, any: set };
      const store = pieceStore();
      for (const seq of more) {
        addSeq(set, seq);
        expect(store.read(store.write(marks))).toEqual(marks);
      }
    }),
    { numRuns: 30 },
  );
});

/** Distances of 1 to 37 in no order (Lehmer's generator, 48271 modulo 2^31 - 1). */
function* distances(): Generator<number> {
  for (let state = 7; ; state = (state * 48_271) % 2_147_483_647) yield 1 + (state % 37);
}

test('an item writes little of marks of any length, also when the oldest are dropped, and what was written can be read back after each', () => {
  const store = pieceStore();
  const [lead, trail] = [emptySeqSet(), emptySeqSet()];
  let marks: BootMarks = { arcs: { 1: lead, 2: trail }, any: emptySeqSet() };
  let seq = 0;
  let added = 0;
  let most = 0;
  const late: number[] = [];
  for (const distance of distances()) {
    seq += distance;
    added += 1;
    if (distance % 5 === 0) late.push(seq);
    const now = distance % 5 === 0 ? [] : distance % 7 === 0 && late.length > 3 ? [seq, late.pop() ?? 0] : [seq];
    for (const own of now) {
      if (marks.arcs[1] !== undefined) addSeq(marks.arcs[1], own);
      if (marks.arcs[2] !== undefined && own % 3 > 0) addSeq(marks.arcs[2], own);
      addSeq(marks.any, own);
    }
    // One after the other where the oldest are given up, and where there are few.
    const single = added < 3_000 || added % 5_000 < 30 || (added > 80_000 && added < 83_000);
    if (!single && added % 997 !== 0) continue;
    const text = store.write(marks);
    if (single && added % 5_000 > 1 && added % 997 !== 1) most = Math.max(most, store.written);
    // What was killed goes on with what is read.
    if (added % 1_009 === 0 || added === 81_500) {
      const read = store.read(text);
      expect(read).toEqual(marks);
      marks = read;
    }
    if (added > 130_000) break;
  }
  expect(marks.any.below).toBeGreaterThan(0);
  expect(marks.arcs[1]?.below).toBeGreaterThan(0);
  expect(store.read(store.write(marks))).toEqual(marks);
  // Three sets of at most 1,023 stretches of a few characters, and a piece now and then; all of them would be 350,000.
  expect(most).toBeLessThan(25_000);
});

test('marks of all arcs and of the only arc diverge and agree again', () => {
  const store = pieceStore();
  const marks: BootMarks = { arcs: { 1: emptySeqSet() }, any: emptySeqSet() };
  const [only] = Object.values(marks.arcs);
  if (only === undefined) throw new Error('no arc');
  let refused: number | null = null;
  let seq = 0;
  let steps = 0;
  for (const distance of distances()) {
    seq += distance;
    steps += 1;
    addSeq(marks.any, seq);
    // Refused at first, and sent again as it should be.
    if (steps % 700 === 699) refused = seq;
    else addSeq(only, seq);
    if (steps % 700 === 5 && refused !== null) addSeq(only, refused);
    if (steps % 50 === 0 || steps % 700 < 10) expect(store.read(store.write(marks))).toEqual(marks);
    if (steps > 6_000) break;
  }
});

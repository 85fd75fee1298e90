import { firstIndex } from './first-index.js';

/**
 * A set of sequence numbers, stored as its steps: from `first` on, stretches of one step each, where stretch `i` ends at `to[i]` and begins where the
 * one before it ends. Two neighbours never have the same step, so equal sets look equal whatever the order of arrival, and every k-th number without
 * an exception is one stretch however long. Plain data that fits in JSON. In an empty set `first` is -1.
 */
export interface SeqSet {
  /** The highest number given up: nobody knows whether the numbers up to it were seen. It is set only after there were too many stretches. */
  below?: number;
  first: number;
  readonly to: number[];
  readonly step: number[];
}

/** What the `stored` topic says about a boot: everything from `first` to `seq` was received; `missing` are the holes above `seq`. */
export interface StoredMark {
  readonly first: number;
  readonly seq: number;
  readonly missing: readonly (readonly [from: number, to: number])[];
}

/** The most holes that a mark names. */
const mostMissing = 32;

/**
 * The number of stretches that are remembered. A counter needs two for each hole; a seq that is not a counter needs one for each number. Numbers in
 * random order need at worst, midway, one for every two: so 130,000 may arrive shuffled, hours at 10 Hz, before any is given up.
 */
export const mostStretches = 65_536;

export function emptySeqSet(): SeqSet {
  return { first: -1, to: [], step: [] };
}

/** The highest number seen, or -1. */
export function lastSeq(set: SeqSet): number {
  return set.to.at(-1) ?? set.first;
}

/** What has changed in a set since this was last read; it is not part of the set. */
export interface SetChange {
  /** The first stretch that changed other than by numbers added at the very end; Infinity if none did. */
  readonly from: number;
  /** The number of stretches given up at the beginning; `from` does not count them. */
  readonly gone: number;
}

const unchanged: SetChange = { from: Infinity, gone: 0 };
const changes = new WeakMap<SeqSet, SetChange>();

/** What has changed since the last call. */
export function takeChange(set: SeqSet): SetChange {
  const change = changes.get(set) ?? unchanged;
  changes.delete(set);
  return change;
}

function noteChange(set: SeqSet, from: number): void {
  const before = changes.get(set) ?? unchanged;
  if (from < before.from) changes.set(set, { ...before, from });
}

function noteGone(set: SeqSet, count: number): void {
  const { from, gone } = changes.get(set) ?? unchanged;
  changes.set(set, { from: Math.max(0, from - count), gone: gone + count });
}

/** Whether a number is among those that were given up, so that nobody knows whether it was seen. */
export function isGivenUp(set: SeqSet, seq: number): boolean {
  return set.below !== undefined && seq <= set.below;
}

/** How many numbers were seen and are remembered. */
export function countSeq({ first, to, step }: SeqSet): number {
  let count = first < 0 ? 0 : 1;
  let before = first;
  for (let at = 0; at < to.length; at += 1) {
    const end = to[at] ?? 0;
    count += (end - before) / (step[at] ?? 1);
    before = end;
  }
  return count;
}

/** Gives up the oldest quarter of the stretches if there are too many; the lowest remaining number is the first of the next stretch. */
function giveUp(set: SeqSet): void {
  const gone = mostStretches / 4;
  noteGone(set, gone);
  set.first = set.to[gone - 1] ?? set.first;
  set.below = set.first - 1;
  set.to.splice(0, gone);
  set.step.splice(0, gone);
}

/** Adds an integer from 0 to 2^53 - 1, in place; false if it was there or may have been (given up). The next in order costs no search or memory. */
export function addSeq(set: SeqSet, seq: number): boolean {
  if (isGivenUp(set, seq)) return false;
  const added = addKnown(set, seq);
  if (set.to.length > mostStretches) giveUp(set);
  return added;
}

function addKnown(set: SeqSet, seq: number): boolean {
  const { first, to, step } = set;
  const count = to.length;
  const last = to[count - 1] ?? first;
  if (first < 0) {
    set.first = seq;
  } else if (seq > last) {
    if (count > 0 && step[count - 1] === seq - last) to[count - 1] = seq;
    else pushStretch(to, step, seq, seq - last);
  } else if (seq < first) {
    noteChange(set, 0);
    set.first = seq;
    if (step[0] !== first - seq) {
      to.unshift(first);
      step.unshift(first - seq);
    }
  } else {
    return seq !== first && fillStep(set, seq);
  }
  return true;
}

/** The maximal ranges of consecutive numbers in a set, from the lowest up. */
export function* ranges(set: SeqSet): Generator<readonly [from: number, to: number]> {
  if (set.first < 0) return;
  let from = set.first;
  let end = set.first;
  for (const [index, to] of set.to.entries()) {
    const step = set.step[index] ?? 1;
    if (step === 1) {
      end = to;
      continue;
    }
    while (end < to) {
      yield [from, end];
      from = end + step;
      end = from;
    }
  }
  yield [from, end];
}

/** The mark for the numbers of one boot, over all its arcs; null if none was seen. */
export function storedMark(set: SeqSet): StoredMark | null {
  if (set.first < 0) return null;
  const missing: [number, number][] = [];
  let seq = -1;
  let end = -1;
  for (const [from, to] of ranges(set)) {
    if (seq < 0) seq = to;
    else missing.push([end + 1, from - 1]);
    if (missing.length === mostMissing) break;
    end = to;
  }
  return { first: set.first, seq, missing };
}

/** The first stretch that ends at or above `seq`, or else the last one. */
function stretchOf({ to }: SeqSet, seq: number): number {
  return firstIndex(to.length - 1, (at) => (to[at] ?? 0) >= seq);
}

/** Inserts a number between the first and the last; one step becomes two, and neighbours that then have equal steps are joined. */
function fillStep(set: SeqSet, seq: number): boolean {
  const { first, to, step } = set;
  const index = stretchOf(set, seq);
  const from = to[index - 1] ?? first;
  const end = to[index] ?? 0;
  const width = step[index] ?? 1;
  const above = (end - seq) % width;
  if (above === 0) return false;
  const next = seq + above;
  const lower = Math.max(index - 1, 0);
  noteChange(set, lower);
  const upper = Math.min(index + 1, to.length - 1);
  const newTo: number[] = [];
  const newStep: number[] = [];
  if (lower < index) pushStretch(newTo, newStep, to[lower] ?? 0, step[lower] ?? 1);
  if (next - width > from) pushStretch(newTo, newStep, next - width, width);
  pushStretch(newTo, newStep, seq, width - above);
  pushStretch(newTo, newStep, next, above);
  if (end > next) pushStretch(newTo, newStep, end, width);
  if (upper > index) pushStretch(newTo, newStep, to[upper] ?? 0, step[upper] ?? 1);
  to.splice(lower, upper - lower + 1, ...newTo);
  step.splice(lower, upper - lower + 1, ...newStep);
  return true;
}

function pushStretch(to: number[], step: number[], end: number, width: number): void {
  if (step.at(-1) === width) {
    to[to.length - 1] = end;
  } else {
    to.push(end);
    step.push(width);
  }
}

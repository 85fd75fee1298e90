import { firstPassage, pass } from './passage.js';
import { rowLength, type ArcColumn, type RunColumn } from '../rows/row.js';
import { valueAt, type RowStretch } from '../rows/row-stretch.js';
import { meanOrRms } from '../rows/alternating.js';
import { timeOf } from './trace-bucket.js';

/** The columns that bins use from an arc's row, and from a run's. */
export const binColumns = [
  'index', 'from', 'covered', 'on', 'current', 'voltage', 'energy', 'currentSquared', 'voltageSquared', 'length', 'travelled', 'flags',
] as const satisfies readonly ArcColumn[];
export const wayColumns = ['index', 'travelled', 'advance', 'gapLength'] as const satisfies readonly RunColumn[];
type BinRows = RowStretch<(typeof binColumns)[number]>;
type WayRows = RowStretch<(typeof wayColumns)[number]>;

/** What one arc put into one bin in one passage. */
export interface BinContent {
  readonly arc: number;
  /** J, s with the arc on, mm, A·s, V·s (by RMS for an alternating arc). */
  energy: number;
  on: number;
  length: number;
  current: number;
  voltage: number;
  /** The stretches of the bin that it passed with values, mm along the seam, in the order in which it passed them. */
  readonly covered: [from: number, to: number][];
}

/** One bin in one passage. */
export interface ProfileBin {
  /** The bin begins at `number` × its width, in mm of an arc's place (travelled − offset). */
  readonly number: number;
  /** Number of this visit of an arc to the bin, from 0. */
  readonly visit: number;
  /** When the bin was first reached, µs of corrected time. */
  reached: number;
  readonly arcs: BinContent[];
}

export interface BinsInput {
  /** Width of a bin, mm. */
  readonly bin: number;
  readonly offsets: Readonly<Record<number, number>>;
  /** Rows in order, in stretches of any length. */
  readonly arcs: readonly { readonly arc: number; readonly stretches: Iterable<BinRows> }[];
  readonly runRows: Iterable<WayRows>;
}

/** What one row adds to a bin; current and voltage are integrals as they are shown. */
type Content = Pick<BinContent, 'energy' | 'on' | 'length' | 'current' | 'voltage'>;

/** Travel through a data gap in one row. */
interface Gap {
  readonly index: number;
  readonly travelled: number;
  readonly length: number;
}

/** A stretch that an arc passed, with the values of a row or (null) in a data gap. */
interface Stretch {
  readonly time: number;
  readonly duration: number;
  readonly from: number;
  readonly to: number;
  readonly content: Content | null;
}

/**
 * Bins along the seam in the order in which they were first reached. The content of a row is split at the borders of bins by length; a row in which
 * the carriage stood still falls into the bin where it stood. When an arc passes a bin again, after going back by more than 1 mm, that is another
 * entry. Travel through a data gap makes bins without content, at the place of the lowest arc.
 */
export function profileBins(input: BinsInput): ProfileBin[] {
  if (!(input.bin > 0) || !Number.isFinite(input.bin)) throw new Error(`bin must be a length in mm above 0, not ${input.bin}`);
  const back = new Set<number>();
  const gaps: Gap[] = [];
  for (const { count, columns: c } of input.runRows) {
    for (let row = 0; row < count; row += 1) {
      const index = valueAt(c.index, row);
      const length = valueAt(c.gapLength, row);
      if (valueAt(c.advance, row) < 0) back.add(index);
      if (length > 0) gaps.push({ index, travelled: valueAt(c.travelled, row), length });
    }
  }
  const bins = new Map<string, ProfileBin>();
  const arcs = [...input.arcs].sort((a, b) => a.arc - b.arc);
  for (const [order, { arc, stretches }] of arcs.entries()) {
    addArc(bins, arc, passed(stretches, input.offsets[arc] ?? 0, back, order === 0 ? gaps : []), input.bin);
  }
  return [...bins.values()].sort((a, b) => a.reached - b.reached || a.number - b.number || a.visit - b.visit);
}

/** Rounds a place to the nanometre, so that a rounding error at the border of a bin does not count as a visit to the next one. */
function snapped(place: number): number {
  return Math.round(place * 1e6) / 1e6;
}

/** Where an arc burnt and where it went through a data gap, in order of time. */
function* passed(stretches: Iterable<BinRows>, offset: number, back: ReadonlySet<number>, gaps: readonly Gap[]): Generator<Stretch> {
  let next = 0;
  const gapStretch = (gap: Gap, from: number): Stretch => {
    const way = back.has(gap.index) ? -1 : 1;
    return { time: gap.index * rowLength, duration: rowLength, from: snapped(from), to: snapped(from + way * gap.length), content: null };
  };
  for (const { count, columns: c } of stretches) {
    for (let row = 0; row < count; row += 1) {
      const index = valueAt(c.index, row);
      const begun = valueAt(c.from, row);
      const on = valueAt(c.on, row);
      for (let gap = gaps[next]; gap !== undefined && gap.index < index; gap = gaps[++next]) yield gapStretch(gap, gap.travelled - offset);
      const from = snapped(valueAt(c.travelled, row) - offset);
      const to = snapped(from + (back.has(index) ? -1 : 1) * valueAt(c.length, row));
      if (on > 0 && Number.isFinite(to)) yield { time: index * rowLength + begun, duration: on * 1e6, from, to, content: contentOf(c, row, on) };
      const gap = gaps[next];
      if (gap?.index !== index) continue;
      next += 1;
      // Either values come first and then none, or none and then values: the row's start shows which.
      yield gapStretch(gap, begun === 0 && on > 0 ? to : gap.travelled - offset);
    }
  }
  for (let gap = gaps[next]; gap !== undefined; gap = gaps[++next]) yield gapStretch(gap, gap.travelled - offset);
}

function contentOf(c: BinRows['columns'], row: number, on: number): Content {
  const time = timeOf(on, valueAt(c.covered, row));
  const flags = valueAt(c.flags, row);
  return {
    energy: valueAt(c.energy, row), on, length: valueAt(c.length, row),
    current: meanOrRms(flags, valueAt(c.current, row), valueAt(c.currentSquared, row), time),
    voltage: meanOrRms(flags, valueAt(c.voltage, row), valueAt(c.voltageSquared, row), time),
  };
}

function addArc(bins: Map<string, ProfileBin>, arc: number, stretches: Iterable<Stretch>, width: number): void {
  const passage = firstPassage();
  const seen = new Map<number, { passage: number; visit: number }>();
  for (const stretch of stretches) {
    pass(passage, stretch.from, stretch.to);
    for (const piece of split(stretch, width)) {
      const last = seen.get(piece.number);
      const visit = last === undefined ? 0 : last.passage === passage.number ? last.visit : last.visit + 1;
      seen.set(piece.number, { passage: passage.number, visit });
      const key = `${piece.number}/${visit}`;
      const reached = stretch.time + piece.begins * stretch.duration;
      let bin = bins.get(key);
      if (bin === undefined) bins.set(key, (bin = { number: piece.number, visit, reached, arcs: [] }));
      bin.reached = Math.min(bin.reached, reached);
      if (stretch.content !== null) addContent(bin, arc, stretch.content, piece);
    }
  }
}

interface SplitPiece {
  readonly number: number;
  /** Ends of the stretch, mm along the seam, `from` below `to`. */
  readonly from: number;
  readonly to: number;
  /** The share of the stretch that comes before this part, and the share that this part is. */
  readonly begins: number;
  readonly share: number;
}

function* split({ from, to }: Stretch, width: number): Generator<SplitPiece> {
  if (from === to) {
    yield { number: Math.floor(from / width), from, to, begins: 0, share: 1 };
    return;
  }
  const [low, high] = from < to ? [from, to] : [to, from];
  for (let number = Math.floor(low / width); number * width < high; number += 1) {
    const piece = { from: Math.max(low, number * width), to: Math.min(high, (number + 1) * width) };
    if (piece.to <= piece.from) continue;
    const before = from < to ? piece.from - low : high - piece.to;
    yield { number, ...piece, begins: before / (high - low), share: (piece.to - piece.from) / (high - low) };
  }
}

function addContent(bin: ProfileBin, arc: number, more: Content, piece: SplitPiece): void {
  let content = bin.arcs.find((one) => one.arc === arc);
  if (content === undefined) bin.arcs.push((content = { arc, energy: 0, on: 0, length: 0, current: 0, voltage: 0, covered: [] }));
  for (const name of ['energy', 'on', 'length', 'current', 'voltage'] as const) content[name] += more[name] * piece.share;
  if (piece.to > piece.from) content.covered.push([piece.from, piece.to]);
}

import { firstPassage, pass } from './passage.js';
import type { ArcRow, RunRow } from './row.js';
import { rowLength } from './row.js';
import { shownSums } from './trace-bucket.js';

/** What one arc left in one bin in one passage. */
export interface BinContent {
  readonly arc: number;
  /** J, s with the arc on, mm, A·s, V·s (of an alternating arc those of its RMS). */
  energy: number;
  on: number;
  length: number;
  current: number;
  voltage: number;
  /** Stretches of the bin that it passed with values, mm along the seam, in the order in which they were passed. */
  readonly covered: [from: number, to: number][];
}

/** One bin as it was passed once. */
export interface ProfileBin {
  /** It begins at `number` × its width, mm of an arc's place (travelled − offset). */
  readonly number: number;
  /** How many-th visit of an arc to this bin it is, from 0. */
  readonly visit: number;
  /** When it was first reached, µs of corrected time. */
  reached: number;
  readonly arcs: BinContent[];
}

export interface BinsInput {
  /** mm. */
  readonly bin: number;
  readonly offsets: Readonly<Record<number, number>>;
  readonly arcs: readonly { readonly arc: number; readonly rows: Iterable<ArcRow> }[];
  readonly runRows: Iterable<RunRow>;
}

/** A stretch that an arc passed: with the values of a row, or in a data gap (null). */
interface Stretch {
  readonly index: number;
  readonly time: number;
  readonly duration: number;
  readonly from: number;
  readonly to: number;
  readonly row: ArcRow | null;
}

/**
 * Bins along the seam in the order in which they were first reached. The content of a row is split at the borders of bins by length; a row
 * in which the carriage stood falls into the bin it stood in. A bin that an arc passes again, after going back by more than 1 mm, is another
 * entry. Travel through a data gap makes bins with no content; it is put where the lowest arc was.
 */
export function profileBins(input: BinsInput): ProfileBin[] {
  if (!(input.bin > 0) || !Number.isFinite(input.bin)) throw new Error(`bin must be a length in mm above 0, not ${input.bin}`);
  const back = new Set<number>();
  const gaps: RunRow[] = [];
  for (const row of input.runRows) {
    if (row.advance < 0) back.add(row.index);
    if (row.gapLength > 0) gaps.push(row);
  }
  const bins = new Map<string, ProfileBin>();
  const arcs = [...input.arcs].sort((a, b) => a.arc - b.arc);
  for (const [order, { arc, rows }] of arcs.entries()) {
    const stretches = stretchesOf(rows, input.offsets[arc] ?? 0, back, order === 0 ? gaps : []);
    addArc(bins, arc, stretches, input.bin);
  }
  return [...bins.values()].sort((a, b) => a.reached - b.reached || a.number - b.number || a.visit - b.visit);
}

/** To the nanometre: what rounding leaves over at the border of a bin is no visit to the next one. */
function snapped(place: number): number {
  return Math.round(place * 1e6) / 1e6;
}

/** Where an arc burnt and where it went through a gap, in order of time. */
function* stretchesOf(rows: Iterable<ArcRow>, offset: number, back: ReadonlySet<number>, gaps: readonly RunRow[]): Generator<Stretch> {
  let next = 0;
  const gapStretch = (gap: RunRow, from: number): Stretch => {
    const way = back.has(gap.index) ? -1 : 1;
    return { index: gap.index, time: gap.index * rowLength, duration: rowLength, from: snapped(from), to: snapped(from + way * gap.gapLength), row: null };
  };
  for (const row of rows) {
    for (let gap = gaps[next]; gap !== undefined && gap.index < row.index; gap = gaps[++next]) yield gapStretch(gap, gap.travelled - offset);
    const from = snapped(row.travelled - offset);
    const to = snapped(from + (back.has(row.index) ? -1 : 1) * row.length);
    if (row.on > 0 && Number.isFinite(to)) {
      yield { index: row.index, time: row.index * rowLength + row.from, duration: row.on * 1e6, from, to, row };
    }
    const gap = gaps[next];
    if (gap?.index !== row.index) continue;
    next += 1;
    // Values up to some instant and then none, or none and then values: the row's start shows which.
    yield gapStretch(gap, row.from === 0 && row.on > 0 ? to : gap.travelled - offset);
  }
  for (let gap = gaps[next]; gap !== undefined; gap = gaps[++next]) yield gapStretch(gap, gap.travelled - offset);
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
      if (stretch.row !== null) addContent(bin, arc, stretch.row, piece);
    }
  }
}

interface SplitPiece {
  readonly number: number;
  /** mm along the seam, `from` below `to`. */
  readonly from: number;
  readonly to: number;
  /** Share of the stretch before it, and share that it is. */
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

function addContent(bin: ProfileBin, arc: number, row: ArcRow, piece: SplitPiece): void {
  let content = bin.arcs.find((one) => one.arc === arc);
  if (content === undefined) bin.arcs.push((content = { arc, energy: 0, on: 0, length: 0, current: 0, voltage: 0, covered: [] }));
  const shown = shownSums(row);
  content.energy += row.energy * piece.share;
  content.on += row.on * piece.share;
  content.length += row.length * piece.share;
  content.current += shown.current * piece.share;
  content.voltage += shown.voltage * piece.share;
  if (piece.to > piece.from) content.covered.push([piece.from, piece.to]);
}

import { alternatingRows } from './arc-figures.js';
import type { Moment } from './moments.js';
import type { PlainWeldMeans, Segment, Span } from './plain-types.js';
import { rootMeanSquare, sum, weigh, type Weighted } from './weighted.js';

const rowLength = 100_000;

/** A part of a value, within one row. */
interface Piece {
  readonly row: number;
  readonly segment: Segment;
  readonly from: number;
  readonly to: number;
}

const seconds = ({ from, to }: Span): number => (to - from) / 1_000_000;

/** Values cut at the borders of rows, which only those of readings cross. */
function piecesOf(segments: readonly Segment[]): Piece[] {
  return segments.flatMap((segment) => {
    const pieces: Piece[] = [];
    for (let from = segment.start; from < segment.end; ) {
      const row = Math.floor(from / rowLength);
      const to = Math.min(segment.end, (row + 1) * rowLength);
      pieces.push({ row, segment, from, to });
      from = to;
    }
    return pieces;
  });
}

/** The parts of pieces that lie within spans; both in order of time, the spans apart from each other. */
function within(pieces: readonly Piece[], spans: readonly Span[]): Piece[] {
  let first = 0;
  return pieces.flatMap((piece) => {
    while ((spans[first]?.to ?? Number.POSITIVE_INFINITY) <= piece.from) first += 1;
    const parts: Piece[] = [];
    for (let i = first; (spans[i]?.from ?? Number.POSITIVE_INFINITY) < piece.to; i += 1) {
      const span = spans[i];
      if (span !== undefined) parts.push({ ...piece, from: Math.max(piece.from, span.from), to: Math.min(piece.to, span.to) });
    }
    return parts;
  });
}

function byRow(pieces: readonly Piece[]): Map<number, Piece[]> {
  const rows = new Map<number, Piece[]>();
  for (const piece of pieces) rows.set(piece.row, [...(rows.get(piece.row) ?? []), piece]);
  return rows;
}

/** One value for each row: the RMS of the whole row where it alternates, else the amount of the mean of its weld; with the time of the row that is weld. */
function rowValues(all: ReadonlyMap<number, readonly Piece[]>, weld: readonly Piece[], alternating: ReadonlySet<number>, of: 'current' | 'voltage'): Weighted[] {
  const weighted = (piece: Piece): Weighted => ({ value: piece.segment[of], weight: seconds(piece) });
  return [...byRow(weld)].map(([row, pieces]) => {
    const values = pieces.map(weighted);
    const value = alternating.has(row) ? rootMeanSquare((all.get(row) ?? pieces).map(weighted)) : Math.abs(weigh(values)?.mean ?? 0);
    return { value, weight: sum(values.map(({ weight }) => weight)) };
  });
}

/** Means of an arc over the weld zone, and the time over which they are taken, s. `weld` are the moments of the weld zone, in order. */
export function weldMeansOf(arc: number, segments: readonly Segment[], weld: readonly Moment[]): { readonly means: PlainWeldMeans; readonly time: number } {
  const ordered = [...segments].sort((a, b) => a.start - b.start);
  const pieces = piecesOf(ordered);
  const own = within(pieces, weld);
  const rows = byRow(pieces);
  const alternating = alternatingRows(ordered);
  const mean = (of: 'current' | 'voltage'): number | null => weigh(rowValues(rows, own, alternating, of))?.mean ?? null;
  const fed = own.flatMap((piece) => (piece.segment.wireFeedSpeed === null ? [] : [{ value: piece.segment.wireFeedSpeed, weight: seconds(piece) }]));
  return { means: { arc, current: mean('current'), voltage: mean('voltage'), wireFeedSpeed: weigh(fed)?.mean ?? null }, time: sum(own.map(seconds)) };
}

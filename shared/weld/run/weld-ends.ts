import type { Moment } from '../judging/excursion-track.js';
import type { PendingRow } from '../judging/pending-row.js';
import { meanOrRms } from '../rows/alternating.js';
import { arcColumn, columnOf } from '../rows/row.js';
import { spreadColumn } from '../rows/spread-sum.js';

/** Length at either end of an arc's weld zone over which its current and feed are averaged, mm. [own] */
export const endLength = 100;

/** The sums of a stretch of an arc's weld zone: mm, s, A·s (RMS per row where the current alternates), and the feed in s and m/min·s. */
export interface WeldPiece {
  readonly length: number;
  readonly on: number;
  readonly current: number;
  readonly feedTime: number;
  readonly feed: number;
}

/** Both ends of an arc's weld zone so far, over rows that no crater can reach any more. */
export interface WeldEnds {
  /** mm of the arc's weld zone. */
  length: number;
  first: WeldPiece;
  /** Where the weld zone begins, and where its first 100 mm are complete. */
  readonly from: Moment;
  complete: Moment | null;
  /** Pieces that hold the last 100 mm, and some before: of each `pieceFields`, one after the other, since objects would take most of the time. */
  last: number[];
}

/** What a piece has, and mm of the arc's weld zone at its end. */
const pieceFields = ['length', 'on', 'current', 'feedTime', 'feed', 'to'] as const;
const width = pieceFields.length;
const toField = pieceFields.indexOf('to');

/** Shorter pieces are joined, so that a creeping carriage does not make thousands of them, mm: rows are shorter below 30 mm/min. [own] */
const shortestPiece = 0.1;

/** Pieces further back than 100 mm are dropped when there are more than so many. */
const dropAtOnce = 64;

/** A rounding error in a sum of lengths, mm, or in a share. */
const rounding = 1e-9;

const feedColumn = spreadColumn.wireFeedSpeed;

/** Adds the `share` of an arc's row that is weld. Rows come in order, so the sums are the same in whatever order items arrived. */
export function addWeldEnd(ends: Record<number, WeldEnds>, arc: number, { rows, from, to }: PendingRow, own: number, share: number): void {
  const on = columnOf(rows, own, arcColumn.on);
  const length = columnOf(rows, own, arcColumn.length) * share;
  // A zone that begins with the end of a row does not begin in it.
  if (!(on > 0) || share <= rounding || Number.isNaN(length)) return;
  const state = (ends[arc] ??= { length: 0, first: { length: 0, on: 0, current: 0, feedTime: 0, feed: 0 }, from, complete: null, last: [] });
  const feedTime = columnOf(rows, own, feedColumn.time);
  const current = meanOrRms(columnOf(rows, own, arcColumn.flags), columnOf(rows, own, arcColumn.current), columnOf(rows, own, arcColumn.currentSquared), on);
  const piece = { length, on: on * share, current: current * share, feedTime: feedTime * share, feed: feedTime > 0 ? columnOf(rows, own, feedColumn.mean) * feedTime * share : 0 };
  if (state.complete === null) addFirst(state, piece, to);
  state.length += length;
  addLast(state.last, piece, state.length);
}

/** The row in which 100 mm are reached is split there by its length. */
function addFirst(state: WeldEnds, piece: WeldPiece, to: Moment): void {
  const missing = endLength - state.first.length;
  const share = piece.length > missing ? missing / piece.length : 1;
  state.first = sumOf(state.first, piece, share);
  if (piece.length >= missing - rounding) state.complete = to;
}

function addLast(last: number[], piece: WeldPiece, to: number): void {
  const before = piece.length < shortestPiece && last.length >= width ? pieceAt(last, last.length - width) : null;
  const joins = before !== null && before.length + piece.length < shortestPiece;
  if (joins) last.length -= width;
  const { length, on, current, feedTime, feed } = joins ? sumOf(before, piece, 1) : piece;
  last.push(length, on, current, feedTime, feed, to);
  // All at once: one by one, moving the others up would take longer than everything else here.
  if (to - (last[dropAtOnce * width + toField] ?? to) < endLength) return;
  let past = 0;
  while (to - (last[past + toField] ?? to) >= endLength) past += width;
  last.splice(0, past);
}

function pieceAt(last: readonly number[], at: number): WeldPiece {
  const [length = 0, on = 0, current = 0, feedTime = 0, feed = 0] = last.slice(at, at + width);
  return { length, on, current, feedTime, feed };
}

/** The sums of the last 100 mm, or of the whole weld zone if it is shorter. */
export function lastPiece({ last, length }: WeldEnds): WeldPiece {
  let sum: WeldPiece = { length: 0, on: 0, current: 0, feedTime: 0, feed: 0 };
  for (let at = 0; at < last.length; at += width) {
    const to = last[at + toField] ?? 0;
    if (length - to >= endLength) continue;
    const piece = pieceAt(last, at);
    const inside = to - (length - endLength);
    sum = sumOf(sum, piece, piece.length > inside ? inside / piece.length : 1);
  }
  return sum;
}

function sumOf(a: WeldPiece, b: WeldPiece, share: number): WeldPiece {
  return {
    length: a.length + b.length * share, on: a.on + b.on * share, current: a.current + b.current * share,
    feedTime: a.feedTime + b.feedTime * share, feed: a.feed + b.feed * share,
  };
}

/** Mean current of all wires of the arc, A (its absolute value), and feed of each wire, m/min, over a piece; the feed is null where none was sent. */
export function meansOf({ on, current, feedTime, feed }: WeldPiece): { readonly current: number; readonly feed: number | null } {
  return { current: Math.abs(current / on), feed: feedTime > 0 ? feed / feedTime : null };
}

/** An independent copy. */
export function cloneWeldEnds(ends: Readonly<Record<number, WeldEnds>>): Record<number, WeldEnds> {
  const copy: Record<number, WeldEnds> = {};
  for (const [arc, own] of Object.entries(ends)) copy[Number(arc)] = { ...own, last: own.last.slice() };
  return copy;
}

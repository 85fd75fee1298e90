import { arcColumns, columnOf, runColumns } from './row.js';

/*
 * Everything of one row of a run: the carriage's columns, the number of arcs that follow, and for each of them, in order, its number and its
 * columns. A group is given by the array that it lies in, often with others, and the place of its beginning; the row of an arc by that of its
 * first column. A group that was made never changes.
 */

/** A group that is held. */
export interface RowGroup {
  readonly rows: Float64Array;
  readonly at: number;
}

const countAt = runColumns.length;
const head = countAt + 2;
/** From the row of one arc to that of the next. */
export const arcStride = arcColumns.length + 1;

export function firstArc(at: number): number {
  return at + head;
}

/** Where the row of a further arc would begin. */
export function arcsEnd(rows: Float64Array, at: number): number {
  return at + head + columnOf(rows, at, countAt) * arcStride;
}

/** Number of the arc whose row it is. */
export function arcNumber(rows: Float64Array, own: number): number {
  return columnOf(rows, own, -1);
}

/** The row of an arc in a group; null where it has none. */
export function arcRow(rows: Float64Array, at: number, arc: number): number | null {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) if (arcNumber(rows, own) === arc) return own;
  return null;
}

/** Room in which groups are made, one behind the other: an array for each would cost more than what is computed for it. */
export interface RowRoom {
  rows: Float64Array;
  used: number;
}

/** Numbers of an array, some 20 groups of one arc: whoever holds one of them holds all. */
const roomSize = 1024;

export function startRoom(): RowRoom {
  return { rows: new Float64Array(0), used: 0 };
}

function sizeOf(arcs: number): number {
  return head - 1 + arcs * arcStride;
}

/** Begins a group of at most so many arcs, in `room.rows`: its columns are still to be set. */
export function beginGroup(room: RowRoom, arcs: number): number {
  const size = sizeOf(arcs);
  if (room.used + size > room.rows.length) {
    room.rows = new Float64Array(Math.max(size, roomSize));
    room.used = 0;
  }
  const at = room.used;
  endGroup(room, at, arcs);
  return at;
}

/** Says how many arcs the group has that was begun last. */
export function endGroup(room: RowRoom, at: number, arcs: number): void {
  room.rows[at + countAt] = arcs;
  room.used = at + sizeOf(arcs);
}

/** Begins the row of the `k`-th arc of a group. */
export function beginArcRow(rows: Float64Array, at: number, k: number, arc: number): number {
  const own = firstArc(at) + k * arcStride;
  rows[own - 1] = arc;
  return own;
}

/** Copies of groups in one array of their own, each with what else its holder holds. */
export function copyGroups<Held extends RowGroup>(groups: readonly Held[]): Held[] {
  let size = 0;
  for (const { rows, at } of groups) size += sizeOf(columnOf(rows, at, countAt));
  const copy = new Float64Array(size);
  let used = 0;
  return groups.map((group) => {
    const { rows, at } = group;
    const begun = used;
    used += sizeOf(columnOf(rows, at, countAt));
    for (let k = begun; k < used; k += 1) copy[k] = columnOf(rows, at, k - begun);
    return { ...group, rows: copy, at: begun };
  });
}

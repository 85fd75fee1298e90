import { arcColumns, columnOf, runColumns } from './row.js';

/*
 * All of one row of a run: the carriage's columns, the number of arcs that follow, and for each of them, in order, its number and its columns. A
 * group is identified by its array, often shared with others, and its starting position there; the row of an arc by the position of its first column.
 * A finished group never changes.
 */

/** A finished group. */
export interface RowGroup {
  readonly rows: Float64Array;
  readonly at: number;
}

const countAt = runColumns.length;
const head = countAt + 2;
/** Distance from the row of one arc to that of the next. */
export const arcStride = arcColumns.length + 1;

export function firstArc(at: number): number {
  return at + head;
}

/** Where the row of a further arc would begin. */
export function arcsEnd(rows: Float64Array, at: number): number {
  return at + head + columnOf(rows, at, countAt) * arcStride;
}

/** The number of the arc whose row begins at `own`. */
export function arcNumber(rows: Float64Array, own: number): number {
  return columnOf(rows, own, -1);
}

/** The row of an arc in a group; null where it has none. */
export function arcRow(rows: Float64Array, at: number, arc: number): number | null {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) if (arcNumber(rows, own) === arc) return own;
  return null;
}

/** Memory in which groups are made, one after the other: allocating an array for each would cost more than what is computed for it. */
export interface RowRoom {
  rows: Float64Array;
  used: number;
}

/** Size of an array, some 20 groups of one arc: a reference to one of them keeps all of them in memory. */
const roomSize = 1024;

export function startRoom(): RowRoom {
  return { rows: new Float64Array(0), used: 0 };
}

function sizeOf(arcs: number): number {
  return head - 1 + arcs * arcStride;
}

/** Begins a group of at most `arcs` arcs in `room.rows`; its columns are still to be set. */
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

/** Sets the number of arcs of the group that was begun last. */
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

/** Copies groups into one array, each with the other fields of its object. */
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

/*
 * Memory for the columns of one stretch of rows. Packing and unpacking use about a hundred columns of a few KB, and allocating an array for each
 * costs more than the computation. Here they are views of one array, which the next stretch reuses: a column is valid only until then, so no column
 * may leave the function that packs or unpacks.
 */

let room = new Float64Array(0);
let used = 0;

/** Begins a stretch: every column handed out so far may be overwritten. */
export function startColumns(): void {
  used = 0;
}

/** A column with whatever was in its memory before, for callers that set every value. */
export function bareColumn(count: number): Float64Array {
  // Columns that were handed out before keep the old array.
  if (used + count > room.length) {
    room = new Float64Array(Math.max(80_000, 2 * room.length, count));
    used = 0;
  }
  used += count;
  return room.subarray(used - count, used);
}

/** A column of zeros. */
export function newColumn(count: number): Float64Array {
  return bareColumn(count).fill(0);
}

export function copied(column: Float64Array): Float64Array {
  const copy = bareColumn(column.length);
  copy.set(column);
  return copy;
}

/*
 * Room for the columns of one stretch of rows. Packing and unpacking take about a hundred columns of a few KB, and an array of its own for
 * each costs more than what is computed in it. They are views of one array here, which the next stretch uses again: a column is good until
 * then, so none may leave the function that packs or unpacks.
 */

let room = new Float64Array(0);
let used = 0;

/** Begins a stretch: every column taken so far may be overwritten. */
export function startColumns(): void {
  used = 0;
}

/** A column that still holds what was in its place before: for one whose every value is set. */
export function bareColumn(count: number): Float64Array {
  // Columns taken before keep the array they lie in.
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

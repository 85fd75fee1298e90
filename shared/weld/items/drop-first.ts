/** Removes the first `count` entries of a list, in place. */
export function dropFirst(list: unknown[], count: number): void {
  // Usually there are only one or two: shifting does not create a list of the removed entries.
  if (count > 4) list.splice(0, count);
  else for (let k = 0; k < count; k += 1) list.shift();
}

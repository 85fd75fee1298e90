/** Takes the first `count` off a list, in place. */
export function dropFirst(list: unknown[], count: number): void {
  // Mostly one or two: shifting makes no list of what it takes off.
  if (count > 4) list.splice(0, count);
  else for (let k = 0; k < count; k += 1) list.shift();
}

/** The first index from 0 at which something `holds` that then holds at all later ones as well; `count` where it holds at none below that. */
export function firstIndex(count: number, holds: (at: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The first index from 0 at which `holds` is true, given that it is then true for all later ones too; `count` if it is true for none. */
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

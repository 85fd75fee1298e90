/** Names the series of one quantity's values: the quantity, and its arc if it has one. */
export function seriesName({ name, arc }: { readonly name: string; readonly arc: number | null }): string {
  return arc === null ? name : `${name} ${arc}`;
}

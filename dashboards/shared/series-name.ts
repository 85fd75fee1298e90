/** Names the values of one quantity over time: the quantity, and the arc where it has one of its own. */
export function seriesName({ name, arc }: { readonly name: string; readonly arc: number | null }): string {
  return arc === null ? name : `${name} ${arc}`;
}

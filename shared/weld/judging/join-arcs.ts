/** The arcs of both lists, each once and in order of their numbers. */
export function joinArcs(some: readonly number[], more: readonly number[]): readonly number[] {
  return [...new Set([...some, ...more])].sort((a, b) => a - b);
}

/** The known name that takes the fewest letters to change, add or leave out (Levenshtein distance). */
export function nearestName(name: string, known: readonly string[]): string {
  let nearest = known[0] ?? '';
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const distance = editDistance(name, candidate);
    if (distance < least) {
      least = distance;
      nearest = candidate;
    }
  }
  return nearest;
}

function editDistance(from: string, to: string): number {
  let above = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let row = 1; row <= from.length; row += 1) {
    const line = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const change = from[row - 1] === to[column - 1] ? 0 : 1;
      const left = line[column - 1] ?? 0;
      line.push(Math.min(left + 1, (above[column] ?? 0) + 1, (above[column - 1] ?? 0) + change));
    }
    above = line;
  }
  return above[to.length] ?? 0;
}

/** Stretches `[from, to)` in order, none touching the next. */
export type Intervals = (readonly [from: number, to: number])[];

export function union(parts: Intervals): Intervals {
  const [only] = parts;
  if (only !== undefined && parts.length === 1) return only[1] > only[0] ? parts : [];
  const sorted = [...parts].filter(([from, to]) => to > from).sort((a, b) => a[0] - b[0]);
  const merged: [number, number][] = [];
  for (const [from, to] of sorted) {
    const last = merged.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else merged.push([from, to]);
  }
  return merged;
}

/** The parts of `from` outside `taken` (both as `union` makes them). */
export function without(from: Intervals, taken: Intervals): Intervals {
  let rest: Intervals = from;
  for (const [start, end] of taken) {
    rest = rest.flatMap(([a, b]): Intervals => {
      if (end <= a || start >= b) return [[a, b]];
      const left: Intervals = start > a ? [[a, start]] : [];
      return end < b ? [...left, [end, b]] : left;
    });
  }
  return rest;
}

export function measure(parts: Intervals): number {
  let sum = 0;
  for (const [from, to] of parts) sum += to - from;
  return sum;
}

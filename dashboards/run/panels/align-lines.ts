import type { LineKind, TraceLine } from './trace-lines.js';

/** null is a hole; undefined means that the line has no point here and is drawn through. */
export type Cells = (number | null | undefined)[];

export interface Column {
  /** 0 is the carriage, or all arcs together. */
  readonly arc: number;
  readonly kind: LineKind;
  readonly mean: Cells;
  readonly low: Cells;
  readonly high: Cells;
}

/** Every place at which any line has a point, rising. */
export function jointPlaces(lines: readonly TraceLine[]): number[] {
  return Float64Array.from(new Set(lines.flatMap(({ points }) => points.map(({ at }) => at)))).sort().reduce<number[]>((all, at) => (all.push(at), all), []);
}

/** The lines as columns over the same places, so that one cursor means the same place in all of them. */
export function alignLines(lines: readonly TraceLine[], places: readonly number[]): Column[] {
  const rows = new Map(places.map((at, row) => [at, row]));
  return lines.map(({ arc, kind, points }) => {
    const column = { arc, kind, mean: emptyCells(places.length), low: emptyCells(places.length), high: emptyCells(places.length) };
    for (const { at, mean, low, high } of points) {
      const row = rows.get(at);
      if (row === undefined) continue;
      column.mean[row] = mean;
      column.low[row] = low;
      column.high[row] = high;
    }
    return column;
  });
}

/** The value that each arc shows at a place: its own point, or the nearest one before it. */
export function valueAt(column: Pick<Column, 'mean'>, row: number): number | null {
  for (let at = row; at >= 0; at -= 1) {
    const value = column.mean[at];
    if (value !== undefined) return value;
  }
  return null;
}

function emptyCells(length: number): Cells {
  return new Array<number | undefined>(length).fill(undefined);
}

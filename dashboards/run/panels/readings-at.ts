import type { Column } from './align-lines.js';
import { valueAt } from './align-lines.js';

export interface ArcReading {
  readonly arc: number;
  readonly value: number | null;
}

/** What each arc shows at a row. Where two passages lie on the place, the later one speaks. */
export function readingsAt(columns: readonly Column[], row: number | null): ArcReading[] {
  const arcs = [...new Set(columns.map(({ arc }) => arc))];
  return arcs.map((arc) => {
    if (row === null) return { arc, value: null };
    const own = columns.filter((column) => column.arc === arc && reaches(column, row)).at(-1);
    return { arc, value: own === undefined ? null : valueAt(own, row) };
  });
}

/** Whether the line has points on both sides of the row, or on it. */
function reaches({ mean }: Column, row: number): boolean {
  return mean.findIndex((value) => value !== undefined) <= row && mean.findLastIndex((value) => value !== undefined) >= row;
}

import type { Cells, Column } from './align-lines.js';

/**
 * The total of all arcs at each place: the sum of those that burn there. It is null where no arc burns, and where one of them has a hole between its
 * values, as its value there is not known. If an arc passed a place twice, the later passage counts.
 */
export function totalLine(columns: readonly Column[], places: number): Column {
  const arcs = [...new Set(columns.map(({ arc }) => arc))];
  const held = arcs.map((arc) => heldValues(columns.filter((column) => column.arc === arc), places));
  const mean: Cells = [];
  for (let row = 0; row < places; row += 1) {
    if (!columns.some((column) => column.mean[row] !== undefined)) mean.push(undefined);
    else {
      const values = held.map((own) => own[row]).filter((value) => value !== undefined);
      const known = values.filter((value) => value !== null);
      mean.push(known.length === 0 || known.length < values.length ? null : known.reduce((sum, value) => sum + value, 0));
    }
  }
  return { arc: 0, kind: 'raw', mean, low: mean, high: mean };
}

/** The value of an arc at every row between the first and the last that it has, as its line is drawn on; beyond them it does not burn. */
function heldValues(passages: readonly Column[], places: number): Cells {
  const cells: Cells = new Array<number | undefined>(places).fill(undefined);
  for (const { mean } of passages) {
    const first = mean.findIndex((value) => typeof value === 'number');
    const last = mean.findLastIndex((value) => typeof value === 'number');
    let value: number | null = null;
    for (let row = first; row >= 0 && row <= last; row += 1) {
      value = mean[row] === undefined ? value : (mean[row] ?? null);
      cells[row] = value;
    }
  }
  return cells;
}

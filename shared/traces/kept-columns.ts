import { firstIndex } from '../weld/items/first-index.js';
import { recordOf } from '../weld/rows/record-of.js';
import type { RowStretch } from '../weld/rows/row-stretch.js';
import { at } from './row-columns.js';

/** The rows of a stretch in columns that the next stretch overwrites (column-room.ts). */
export interface BorrowedColumns<Name extends string> {
  readonly count: number;
  readonly columns: Readonly<Record<Name, Float64Array>>;
}

/** Copies the named columns of the rows with `from <= index < to`. */
export function keptColumns<Name extends string>(borrowed: BorrowedColumns<Name | 'index'>, names: readonly Name[], from: number, to: number): RowStretch<Name> {
  const { index } = borrowed.columns;
  const begin = firstIndex(index.length, (row) => at(index, row) >= from);
  const end = firstIndex(index.length, (row) => at(index, row) >= to);
  const count = Math.max(0, end - begin);
  const whole = count === index.length;
  const room = new Float64Array(count * names.length);
  const columns = recordOf(names, (name, place) => {
    const column = room.subarray(place * count, (place + 1) * count);
    const own = borrowed.columns[name];
    // Usually all rows are asked for.
    column.set(whole ? own : own.subarray(begin, begin + count));
    return column;
  });
  return { count, columns };
}

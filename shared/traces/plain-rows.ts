import { endianness } from 'node:os';
import type { ArcRow, RunRow } from '../weld/row.js';
import { bareColumn, startColumns } from './column-room.js';
import { arcColumns, arcRowAt, putArcRow, putRunRow, runColumns, runRowAt } from './row-columns.js';
import type { ArcColumns, Columns, RunColumns } from './row-columns.js';

/*
 * Rows as they are: one Float64 (little-endian) after the other, row by row. For rows that will soon be written
 * again (the provisional tail, what waits for its minute to fill up): packing those costs more than it saves. These are rows with the
 * columns of today; plain-body.ts says how they are stored, and makes them of rows that were stored with fewer.
 */

const swapped = endianness() === 'BE';

function write<Row>(rows: readonly Row[], width: number, put: (values: Float64Array, place: number, row: Row) => void): Buffer {
  const values = new Float64Array(rows.length * width);
  let place = 0;
  for (const row of rows) {
    put(values, place, row);
    place += width;
  }
  const body = Buffer.from(values.buffer);
  return swapped ? body.swap64() : body;
}

function columnsIn<Name extends string>(body: Uint8Array, names: readonly Name[]): { count: number; columns: Columns<Name> } {
  const width = names.length;
  const count = body.length / (8 * width);
  if (!Number.isInteger(count)) throw new Error(`stored rows are damaged: ${body.length} bytes are no whole number of rows of ${8 * width} bytes`);
  // A copy: bytes out of the database need not lie where numbers may.
  const bytes = Buffer.from(new ArrayBuffer(body.length));
  bytes.set(body);
  if (swapped) bytes.swap64();
  const numbers = new Float64Array(bytes.buffer);
  const columns: Partial<Record<Name, Float64Array>> = {};
  for (const [position, name] of names.entries()) {
    const column = bareColumn(count);
    for (let row = 0, place = position; row < count; row += 1, place += width) column[row] = numbers[place] ?? 0;
    columns[name] = column;
  }
  return { count, columns: columns as Columns<Name> };
}

/** Bytes of one plain row. */
export const plainArcRow = 8 * arcColumns.length;
export const plainRunRow = 8 * runColumns.length;

export function plainArcRows(rows: readonly ArcRow[]): Buffer {
  return write(rows, arcColumns.length, putArcRow);
}

export function plainRunRows(rows: readonly RunRow[]): Buffer {
  return write(rows, runColumns.length, putRunRow);
}

/** Plain rows in columns; see column-room.ts for how long they are good. */
export function plainArcColumns(body: Uint8Array): { count: number; columns: ArcColumns } {
  return columnsIn<keyof ArcRow>(body, arcColumns);
}

export function plainRunColumns(body: Uint8Array): { count: number; columns: RunColumns } {
  return columnsIn<keyof RunRow>(body, runColumns);
}

export function readPlainArcRows(body: Uint8Array): ArcRow[] {
  startColumns();
  const { count, columns } = plainArcColumns(body);
  return Array.from({ length: count }, (_, row) => arcRowAt(columns, row));
}

export function readPlainRunRows(body: Uint8Array): RunRow[] {
  startColumns();
  const { count, columns } = plainRunColumns(body);
  return Array.from({ length: count }, (_, row) => runRowAt(columns, row));
}
